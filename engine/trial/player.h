#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <vector>

#include "trial/draw.h"
#include "trial/memory.h"
#include "trial/policy.h"

namespace whichlink::trial {

/// How one case went.
struct Game {
  guide::Stage stage = guide::Stage::under_way;
  double doubt = 0;  ///< as of Choice
  moves::Standing end;
  std::vector<moves::Move> made;
  double minutes = 0;          ///< of the moves
  bool is_left_wrong = false;  ///< the route was not sound at the end
};

/// Plays the cases of one policy and one route one after the other. A policy that is fixed is asked
/// once after each sequence of reports that the memory holds, so a case that goes like an earlier
/// one is quick.
class Player {
 public:
  /// The setting and the memory must outlive it.
  /// @param memory  of this policy and complaint; null: it is asked at each step
  Player(const moves::Setting& setting, const Complaint& complaint, const std::string& policy,
         const plan::Depth& depth, Memory* memory);
  Player(Player&&) noexcept;
  Player& operator=(Player&&) = delete;
  Player(const Player&) = delete;
  Player& operator=(const Player&) = delete;
  ~Player();

  /// @param seed  of the case, for a policy that draws lots: so it plays the same in any company
  [[nodiscard]] Game play(const Drawn& drawn, std::uint64_t seed);

 private:
  struct Made {
    moves::Move move;
    std::size_t outcome = 0;
  };

  const guide::Course& start_of(std::size_t heard);
  void take(guide::Course& course, const Made& made) const;
  [[nodiscard]] guide::Course caught_up(const guide::Course& start,
                                        const std::vector<Made>& made) const;

  const moves::Setting& setting_;
  Complaint complaint_;
  std::string name_;
  plan::Depth depth_;
  std::unique_ptr<Policy> policy_;
  Memory* memory_;
  std::map<std::size_t, guide::Course> starts_;  // by what was complained of
};

}  // namespace whichlink::trial
