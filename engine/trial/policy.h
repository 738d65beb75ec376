#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/random.h"
#include "guide/course.h"

namespace whichlink::trial {

/// What a policy does next: a move, or it ends the case.
struct Choice {
  guide::Stage stage = guide::Stage::under_way;
  std::optional<moves::Move> move;  ///< while under way
  double doubt = 0;  ///< believed chance that something is wrong; 0 where nothing is believed
};

/// A way of going about a case.
class Policy {
 public:
  Policy() = default;
  Policy(const Policy&) = delete;
  Policy& operator=(const Policy&) = delete;
  virtual ~Policy() = default;

  [[nodiscard]] virtual Choice next(const guide::Course& course) = 0;
  /// What it knows of the ways on; null: nothing.
  [[nodiscard]] virtual plan::KnownWays* known() { return nullptr; }
  /// The same course always leads to the same choice.
  [[nodiscard]] virtual bool is_fixed() const { return true; }
};

/// One line of a trial's table.
struct PolicyKind {
  std::string name;   ///< "time", "fixed order" ...
  std::string words;  ///< what it does, in one sentence
};

/// All there are: ours by each aim, then the plain ones.
[[nodiscard]] const std::vector<PolicyKind>& policy_kinds();
/// @param name  one of policy_kinds()
/// @param seed  of the policy that draws its moves
/// @param depth  how far ours searches ahead
[[nodiscard]] std::unique_ptr<Policy> policy_of(const std::string& name, std::uint64_t seed,
                                                const plan::Depth& depth = {});

}  // namespace whichlink::trial
