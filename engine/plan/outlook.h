#pragma once

#include <cstdint>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include "moves/move.h"
#include "plan/case_belief.h"

namespace whichlink::plan {

/// What an Outlook is asked about: a belief as plain chances.
struct State {
  const std::vector<double>& present;  ///< by fault that matters, as of Outlook::of_matters
  double crossed = 0;                  ///< plugs of the pair are crossed
  double something_wrong = 0;          ///< the route, everything put back, is not sound
  bool heard_wrong = false;            ///< the route's last report was not "nothing wrong"
};

/// An estimate of the priced minutes still to go from a belief on, for one route as it is plugged
/// once everything is put back. A heuristic, not a bound (docs/mathematics.md 6.2). For one thread.
class Outlook {
 public:
  /// @param minutes_each  counts every repair and look as this many minutes
  Outlook(const moves::Setting& setting, const moves::Standing& standing,
          std::optional<double> minutes_each = std::nullopt);

  /// The least of closing, calling service, and repairing in descending order of chance over cost
  /// (Kadane & Simon 1977, from memory). While the trouble is heard, each repair is known to have
  /// worked or not, and only the next one is paid if it has not; while it is not heard, all are
  /// paid and the rest of the chance is left in. Each is what some policy really costs.
  /// @param closing_minutes  what it takes, after a repair that seems to have worked, to close the
  /// case
  [[nodiscard]] double minutes(const State& state, double closing_minutes);

  /// Of chances by fault, those of the faults on the route's way, ascending.
  [[nodiscard]] std::vector<double> of_matters(const std::vector<double>& by_fault) const;
  /// Price of closing now: that of a fault left in, by its chance.
  [[nodiscard]] double close_minutes(const State& state) const;
  /// Price of calling service now: a visit, and a second one by the chance that the likeliest part
  /// is not the bad one, since what the first visit brings is chosen by it.
  [[nodiscard]] double service_minutes(const State& state) const;

 private:
  struct Repair {
    double minutes = 0;                                   ///< with the price of the part
    std::vector<std::pair<std::uint32_t, double>> cures;  ///< index into matters_, chance
    std::vector<std::size_t> parts;                       ///< that have these faults
    bool uncrosses = false;
  };
  /// Given that something is wrong.
  struct Share {
    std::vector<double> by_fault;  ///< in the order of matters_
    std::vector<double> by_part;   ///< sums of those
    double crossed = 0;
  };

  void list_repairs(const moves::Setting& setting, const moves::Standing& put_back);
  void add_cure(Repair& repair, std::uint32_t fault, double chance) const;
  void set_share(const State& state, Share& share) const;
  void add_up_part(std::size_t part, Share& share) const;
  /// Of share_, in order_.
  [[nodiscard]] double repairing(double closing_minutes);
  [[nodiscard]] double repairing_unheard(double wrong);
  /// @param repairing  what that takes once something shows
  [[nodiscard]] double looking(double wrong, double repairing) const;
  void order_by_chance_over_cost();
  [[nodiscard]] static double cured_by(const Repair& repair, const Share& share);
  void take_out(const Repair& repair, Share& share) const;
  [[nodiscard]] static double visits(const Share& share);

  faults::Prices prices_;
  std::optional<double> minutes_each_;
  std::vector<std::uint32_t> matters_;  ///< faults on the route's way
  std::vector<std::size_t> by_part_;    ///< indices into matters_, part by part; the unlisted cause
                                        ///< is a part of its own
  std::vector<std::size_t> part_end_;   ///< by part: where it ends in by_part_
  std::vector<std::size_t> part_of_;    ///< in the order of matters_
  std::vector<Repair> repairs_;
  double least_repair_ = std::numeric_limits<double>::infinity();  ///< minutes
  double look_minutes_ = 0;  ///< stressing the whole route, or listening where nothing bears stress

  // Buffers of `minutes`.
  Share share_;  ///< of the state
  Share left_;   ///< after some repairs
  std::vector<std::pair<double, std::size_t>>
      order_;  ///< negative ratio of chance and cost, repair
};

}  // namespace whichlink::plan
