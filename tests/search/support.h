#pragma once

#include <string>
#include <vector>

#include "search/search.h"

/// Small decision processes for the tests, built action by action.
namespace whichlink::search {

/// One site. A row's entries beyond the states lead to the end.
class Builder {
 public:
  struct To {
    std::uint32_t state = 0;
    double chance = 0;
  };
  using Row = std::vector<To>;

  /// @param priors  add up to 1
  explicit Builder(std::vector<double> priors) {
    process_.sites.push_back({priors.size(), {}});
    process_.start = std::move(priors);
  }
  std::uint32_t end() const { return static_cast<std::uint32_t>(process_.start.size()); }

  /// A look that leaves the state as it is. @param report  by state: chance of each observation
  void look(double minutes, const std::vector<std::vector<double>>& report) {
    Choice choice{0, report.front().size(), std::vector<double>(end(), minutes), {}};
    for (std::uint32_t state = 0; state < end(); ++state) {
      choice.arcs.emplace_back();
      for (std::uint32_t observation = 0; observation < report[state].size(); ++observation) {
        const double chance = report[state][observation];
        if (chance > 0) choice.arcs.back().push_back({observation, state, chance});
      }
    }
    process_.sites[0].choices.push_back(std::move(choice));
  }
  /// Ends everywhere, at this cost by state.
  void ending(std::vector<double> minutes) {
    process_.sites[0].choices.push_back(
        {0, 0, std::move(minutes), std::vector<std::vector<Arc>>(end())});
  }
  /// Moves by these rows; nothing is reported.
  void move(double minutes, const std::vector<Row>& next) {
    Choice choice{0, 1, std::vector<double>(end(), minutes), {}};
    for (const Row& row : next) {
      choice.arcs.emplace_back();
      for (const To& to : row) {
        if (to.state < end()) choice.arcs.back().push_back({0, to.state, to.chance});
      }
    }
    process_.sites[0].choices.push_back(std::move(choice));
  }
  const Process& process() const { return process_; }

 private:
  Process process_;
};

/// Far more work than any of these takes.
constexpr std::size_t kPlenty = 2'000'000'000;

inline Answer solved(const Process& process, double gap, std::size_t most_work) {
  Search search(process);
  search.refine(gap, most_work);
  return search.answer();
}

}  // namespace whichlink::search
