#pragma once

#include <optional>
#include <vector>

#include "base/random.h"
#include "moves/arrangement.h"
#include "moves/move.h"

namespace whichlink::simulate {

/// The truth of one simulated case: what is bad, and how things are really plugged.
struct Truth {
  std::vector<belief::State> states;  ///< by fault
  chain::Patching real;
};

/// A room that answers moves as the model says, one hidden truth at a time. Knows nothing of
/// beliefs.
class Room {
 public:
  Room(const moves::Setting& setting, Truth truth, std::size_t listener, std::uint64_t seed);

  /// What is heard on the route as it is: an index into the question's outcomes. If something is,
  /// the room settles before the first move (moves::settling); if not (0), nothing changes.
  [[nodiscard]] std::size_t complain(RouteId route);
  /// The same with moves::complaint_of and moves::settling worked out before.
  [[nodiscard]] std::size_t complain(const belief::Question& complaint,
                                     const belief::Slice& settling);
  /// Settles as after a complaint.
  void settle(const belief::Slice& settling) { move_on(settling.transitions); }
  /// Makes the move and hears. @param standing  before the move
  [[nodiscard]] std::size_t respond(const moves::Standing& standing, const moves::Move& move);
  /// @param question  moves::question_of that, as things really are
  [[nodiscard]] std::size_t respond(const moves::Standing& standing, const moves::Move& move,
                                    const belief::Question& question);
  [[nodiscard]] const Truth& truth() const { return truth_; }
  /// Whether the complaint's route really leads, without a fault on it, to the end that the person
  /// takes it to lead to (a spare may have become its end).
  [[nodiscard]] bool sound(const moves::Standing& standing) const;

 private:
  void move_on(const std::vector<belief::Transition>& transitions);
  std::size_t hear(const belief::Question& question);
  std::size_t draw(const std::vector<double>& chances);

  const moves::Setting& setting_;
  Truth truth_;
  std::size_t listener_;
  Random random_;
};

/// Everything sound and plugged as it should be.
[[nodiscard]] Truth nothing_wrong(const moves::Setting& setting);

}  // namespace whichlink::simulate
