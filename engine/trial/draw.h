#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "moves/arrangement.h"
#include "simulate/room.h"

namespace whichlink::trial {

/// Which column of the rules' rates the hidden truth is drawn from.
enum class Rates { low, mid, high };
/// "low", "mid", "high", in the order of Rates.
[[nodiscard]] const std::vector<std::string>& rates_names();
/// @param name  one of rates_names()
[[nodiscard]] Rates rates_of(const std::string& name);

/// The installation with that column in place of the middle one, which all beliefs use.
[[nodiscard]] moves::Installation with_rates(moves::Installation installation, Rates rates);

/// What every case of a trial has in common.
struct Complaint {
  RouteId route;
  std::optional<std::size_t> heard;  ///< outcome of the route's sense; absent: any but the first
  std::size_t listener = 0;
};

/// A hidden truth and what was complained of.
struct Drawn {
  simulate::Truth truth;  ///< before the complaint
  std::size_t heard = 0;
  simulate::Room room;  ///< after it, and settled
};

/// Draws truths from the priors of a setting until one is complained of.
class CaseDrawer {
 public:
  /// The setting must outlive it.
  CaseDrawer(const moves::Setting& setting, const Complaint& complaint);
  /// @return nothing if the complaint never came in kMostDraws draws
  [[nodiscard]] std::optional<Drawn> draw(std::uint64_t seed) const;

 private:
  /// @param truth  in which these are absent
  /// @return whether they stayed so
  bool draw_states(const std::vector<std::uint32_t>& faults, Random& random,
                   simulate::Truth& truth) const;
  [[nodiscard]] bool is_wanted(std::size_t heard) const;
  /// The complaint that comes with no fault on the way, if one does.
  /// @param uniform  drawn from 0 to 1
  [[nodiscard]] std::optional<std::size_t> heard_when_sound(const belief::Question& question,
                                                            double uniform) const;

  const moves::Setting& setting_;
  Complaint complaint_;
  belief::Slice settling_;
  /// One for each way in which the plugs may really be.
  struct Way {
    moves::Arrangement arrangement;
    belief::Question question;
    std::vector<std::uint32_t> others;  ///< faults that are not on the way, and cannot be heard
  };
  std::vector<Way> ways_;
};

/// Some seconds of drawing (judged).
constexpr std::size_t kMostDraws = 2'000'000;

}  // namespace whichlink::trial
