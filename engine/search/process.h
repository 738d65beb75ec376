#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

/// Decision processes under partial observation as plain numbers: what is least to pay until the
/// end, and bounds of it. Knows nothing of plugs or faults.
namespace whichlink::search {

/// One number of a sparse row.
struct Entry {
  std::uint32_t index = 0;
  double chance = 0;
};
/// Ascending by index, no repeats, no chance of 0; adds up to 1.
using Row = std::vector<Entry>;

/// The last state is the end: nothing is paid there any more. Every action is possible everywhere
/// (what is not is dear), and at least one leads to the end from every state.
struct Process {
  std::size_t observations = 0;
  std::vector<double> start;                 ///< by state; adds up to 1
  std::vector<std::vector<Row>> next;        ///< [action][state]: chances of the state after
  std::vector<std::vector<Row>> reports;     ///< [action][state after]: chances of observations
  std::vector<std::vector<double>> minutes;  ///< [action][state]: cost, at least 0; at the end 0

  [[nodiscard]] std::size_t states() const { return start.size(); }
  [[nodiscard]] std::size_t actions() const { return next.size(); }
  [[nodiscard]] std::size_t end() const { return start.size() - 1; }
};

/// Chances by state; they need not add up to 1 (then every value scales along).
using Belief = std::vector<double>;

/// What an action and each observation would leave: [observation][state], adding up, with what is
/// at the end, to what `belief` does. The end itself is left out: it costs nothing more.
[[nodiscard]] std::vector<Belief> after(const Process& process, const Belief& belief,
                                        std::size_t action);
/// Expected cost of the action alone.
[[nodiscard]] double cost(const Process& process, const Belief& belief, std::size_t action);
/// Sum of the chances.
[[nodiscard]] double mass(const Belief& belief);

}  // namespace whichlink::search
