// What the engine says of parts that are told on standard input, for spares_test.py. A line in:
// years, batch, service, holding, lacking, the level to look at, then shape, exposure and takes of
// each stream. A line out: mean and variance of the demand, the level for the service, the cheapest
// level, and at the level looked at: P(X = level), P(X <= level), P(X > level), E (X - level)+,
// E (level - X)+, then of the policy: chance out, short, held, cost.

#include <iomanip>
#include <iostream>
#include <limits>
#include <sstream>
#include <string>

#include "upkeep/base_stock.h"

int main() {
  using namespace whichlink::upkeep;
  std::cout << std::setprecision(std::numeric_limits<double>::max_digits10);
  for (std::string line; std::getline(std::cin, line);) {
    std::istringstream in(line);
    double years = 0;
    double service = 0;
    double holding = 0;
    double lacking = 0;
    std::size_t batch = 0;
    std::size_t level = 0;
    if (!(in >> years >> batch >> service >> holding >> lacking >> level)) return 1;
    std::vector<Stream> streams;
    for (Stream one; in >> one.rate.shape >> one.rate.exposure >> one.takes;)
      streams.push_back(one);
    const Demand demand(streams, years);
    const Stocked here = stocked(demand, level, batch);
    std::cout << demand.mean() << ' ' << demand.variance() << ' '
              << level_for_service(demand, service, batch) << ' '
              << cheapest_level(demand, holding, lacking, batch) << ' ' << demand.chance_of(level)
              << ' ' << demand.chance_of_at_most(level) << ' ' << demand.chance_of_more(level)
              << ' ' << demand.expected_short(level) << ' ' << demand.expected_left(level) << ' '
              << here.chance_out << ' ' << here.expected_short << ' ' << here.expected_held << ' '
              << cost_of_level(demand, level, holding, lacking, batch) << '\n';
  }
}
