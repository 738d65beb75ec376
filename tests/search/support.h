#pragma once

#include <string>
#include <vector>

#include "search/search.h"

/// Small decision processes for the tests, built action by action.
namespace whichlink::search {

class Builder {
 public:
  /// @param priors  of the states other than the end; add up to 1
  Builder(std::vector<double> priors, std::size_t observations) {
    process_.observations = observations;
    process_.start = std::move(priors);
    process_.start.push_back(0);
  }
  std::uint32_t end() const { return static_cast<std::uint32_t>(process_.end()); }

  /// A look that leaves the state as it is. @param report  by state: chance of each observation
  void look(double minutes, const std::vector<std::vector<double>>& report) {
    std::vector<Row> next;
    std::vector<Row> reports;
    for (std::uint32_t state = 0; state < end(); ++state) {
      next.push_back({{state, 1}});
      reports.push_back(row_of(report[state]));
    }
    add(std::move(next), std::move(reports), std::vector<double>(end(), minutes));
  }
  /// Ends everywhere, at this cost by state.
  void ending(std::vector<double> minutes) {
    add(std::vector<Row>(end(), Row{{end(), 1}}), std::vector<Row>(end(), Row{{0, 1}}),
        std::move(minutes));
  }
  /// Moves by these rows; the report is always the first.
  void move(double minutes, std::vector<Row> next) {
    add(std::move(next), std::vector<Row>(end(), Row{{0, 1}}), std::vector<double>(end(), minutes));
  }
  const Process& process() const { return process_; }

 private:
  static Row row_of(const std::vector<double>& chances) {
    Row row;
    for (std::uint32_t index = 0; index < chances.size(); ++index) {
      if (chances[index] > 0) row.push_back({index, chances[index]});
    }
    return row;
  }
  void add(std::vector<Row> next, std::vector<Row> reports, std::vector<double> minutes) {
    next.push_back({{end(), 1}});
    reports.push_back({{0, 1}});
    minutes.push_back(0);
    process_.next.push_back(std::move(next));
    process_.reports.push_back(std::move(reports));
    process_.minutes.push_back(std::move(minutes));
  }
  Process process_;
};

inline Answer solved(const Process& process, double gap, std::size_t most_backups) {
  Search search(process);
  search.refine(gap, most_backups);
  return search.answer();
}

}  // namespace whichlink::search
