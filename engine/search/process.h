#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

/// Decision processes under partial observation as plain numbers: what is least to pay until the
/// end, and bounds of it. Part of where one stands is always known (the site), the rest is a belief
/// over the states of that site (mixed observability). Knows nothing of plugs or faults.
namespace whichlink::search {

/// One way on from a state: what is observed, and the state after it.
struct Arc {
  std::uint32_t observation = 0;
  std::uint32_t to = 0;  ///< a state of the site that the choice leads to
  double chance = 0;     ///< above 0
};

/// Something that can be done at a site.
struct Choice {
  std::size_t to = 0;            ///< the site after it, of no meaning where there are no arcs
  std::size_t observations = 0;  ///< of this choice alone
  std::vector<double> minutes;   ///< by state: cost, at least 0
  /// By state: the chances of observation and state after it together. What they leave of 1 is the
  /// chance that this ends it.
  std::vector<std::vector<Arc>> arcs;
};

/// At least one choice must end it from every state.
struct Site {
  std::size_t states = 0;
  std::vector<Choice> choices;
};

/// Chances by state of one site; they need not add up to 1 (then every value scales along).
using Belief = std::vector<double>;
using BeliefView = std::span<const double>;

struct Process {
  std::vector<Site> sites;
  std::size_t start_site = 0;
  Belief start;  ///< adds up to 1
};

/// What a choice and each observation would leave: [observation][state of the site after it].
/// Together with what has ended they add up to what the belief does.
class Left {
 public:
  /// @param number  of the choice
  Left(const Process& process, std::size_t site, BeliefView belief, std::size_t number);
  [[nodiscard]] std::size_t observations() const { return masses_.size(); }
  [[nodiscard]] std::size_t site() const { return site_; }
  [[nodiscard]] BeliefView belief(std::size_t observation) const {
    return BeliefView(chances_).subspan(observation * states_, states_);
  }
  /// Sum of its chances.
  [[nodiscard]] double mass(std::size_t observation) const { return masses_[observation]; }

 private:
  std::size_t site_;
  std::size_t states_;
  std::vector<double> chances_;
  std::vector<double> masses_;
};

/// Expected cost of the choice alone.
[[nodiscard]] double cost(const Choice& choice, BeliefView belief);
/// Whether it ends it from every state.
[[nodiscard]] bool ends(const Choice& choice);
/// Sum of the chances.
[[nodiscard]] double mass(BeliefView belief);

}  // namespace whichlink::search
