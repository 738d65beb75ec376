#include "search/process.h"

#include <numeric>

namespace whichlink::search {

std::vector<Belief> after(const Process& process, const Belief& belief, std::size_t action) {
  Belief moved(process.states(), 0.0);
  for (std::size_t state = 0; state < process.end(); ++state) {
    if (belief[state] == 0) continue;
    for (const Entry& one : process.next[action][state]) {
      moved[one.index] += belief[state] * one.chance;
    }
  }
  std::vector<Belief> left(process.observations, Belief(process.states(), 0.0));
  for (std::size_t state = 0; state < process.end(); ++state) {
    if (moved[state] == 0) continue;
    for (const Entry& one : process.reports[action][state]) {
      left[one.index][state] += moved[state] * one.chance;
    }
  }
  return left;
}

double cost(const Process& process, const Belief& belief, std::size_t action) {
  return std::inner_product(belief.begin(), belief.end(), process.minutes[action].begin(), 0.0);
}

double mass(const Belief& belief) {
  return std::accumulate(belief.begin(), belief.end(), 0.0);
}

}  // namespace whichlink::search
