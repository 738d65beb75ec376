// One exact posterior on tables that the program exported; the rivals are two JavaScript libraries,
// each run by node on the same file.
//   bench_update NODE RIVAL.mjs TABLES.json...

#include <fmt/core.h>

#include <cstdio>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>

#include "belief/belief.h"
#include "belief/joint.h"
#include "belief/set_belief.h"
#include "bench/measure.h"

namespace {

using namespace whichlink;
using Json = nlohmann::json;

struct Case {
  belief::Network network;
  std::vector<belief::Slice> slices;
};

// The first arrangement, the one where everything is plugged as it should be.
Case read(const std::string& file) {
  const Json tables = Json::parse(std::ifstream(file));
  Case one;
  std::map<std::string, std::size_t> sense_number;
  for (const auto& [name, sense] : tables.at("senses").items()) {
    sense_number[name] = one.network.at_most.size();
    one.network.at_most.emplace_back();
    for (const Json& fault : tables.at("faults")) {
      one.network.at_most.back().push_back(fault.at("at_most").at(name));
    }
  }
  for (const Json& fault : tables.at("faults")) one.network.prior.push_back(fault.at("prior"));
  for (const Json& step : tables.at("arrangements").at(0).at("evidence")) {
    belief::Slice slice;
    for (const Json& moved : step.at("transitions")) {
      slice.transitions.push_back({moved.at("fault"), moved.at("matrix")});
    }
    slice.hearing.path = step.at("path").get<std::vector<std::uint32_t>>();
    slice.hearing.sense = sense_number.at(step.at("sense"));
    slice.hearing.leak_at_most = step.at("leak_at_most").get<std::vector<double>>();
    slice.hearing.chance_of_report = step.at("chance_of_report").get<std::vector<double>>();
    one.slices.push_back(std::move(slice));
  }
  return one;
}

/// What node wrote: {"library": {"posterior": [[...]], "seconds": x}}; libraries that would not end
/// in time on so many faults are not in it.
Json ask_rivals(const std::string& command) {
  std::FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) bench::stop("cannot start node");
  std::string text;
  char buffer[4096];
  while (const std::size_t got = std::fread(buffer, 1, sizeof buffer, pipe))
    text.append(buffer, got);
  if (pclose(pipe) != 0) bench::stop("the rivals failed: " + command);
  return Json::parse(text);
}

void row(std::size_t faults, std::size_t slices, const std::string& name, double seconds,
         double ours) {
  fmt::print("{:6} {:6} {:34} {:>11} {:12.1f}\n", faults, slices, name, bench::time_text(seconds),
             seconds / ours);
}

void compare(const std::string& node, const std::string& script, const std::string& file) {
  const Case one = read(file);
  const std::size_t faults = one.network.faults();
  const belief::Posterior best = belief::best_posterior(one.network, one.slices).posterior;
  if (best.left_out != 0) bench::stop(file + ": not exact");
  if (!std::isfinite(best.log_evidence)) bench::stop(file + ": the reports are impossible");
  const auto subsets = belief::by_subsets(one.network, one.slices, faults);
  bench::must_agree(file + ": subsets", bench::distance(best, subsets), 1e-9);
  const auto thresholds = belief::by_thresholds(one.network, one.slices);
  if (thresholds.fits) {
    bench::must_agree(file + ": thresholds", bench::distance(best, thresholds.posterior), 1e-9);
  }
  const Json rivals = ask_rivals("'" + node + "' '" + script + "' '" + file + "'");
  for (const auto& [name, rival] : rivals.items()) {
    belief::Posterior theirs;
    theirs.log_evidence = best.log_evidence;  // not every library gives it
    theirs.marginal = rival.at("posterior").get<std::vector<belief::StateVector>>();
    bench::must_agree(file + ": " + name, bench::distance(best, theirs), 1e-9);
  }

  const double ours =
      bench::seconds_of([&] { (void)belief::best_posterior(one.network, one.slices); });
  row(faults, one.slices.size(), "ours: best_posterior", ours, ours);
  row(faults, one.slices.size(), "ours: by_joint", bench::seconds_of([&] {
        (void)belief::by_joint(one.network, one.slices,
                               belief::joint_shape(one.network, one.slices));
      }),
      ours);
  row(faults, one.slices.size(), "ours: by_subsets, all sets",
      bench::seconds_of([&] { (void)belief::by_subsets(one.network, one.slices, faults); }), ours);
  if (thresholds.fits) {
    row(faults, one.slices.size(), "ours: by_thresholds",
        bench::seconds_of([&] { (void)belief::by_thresholds(one.network, one.slices); }), ours);
  }
  for (const auto& [name, rival] : rivals.items()) {
    row(faults, one.slices.size(), "rival: " + name, rival.at("seconds").get<double>(), ours);
  }
}

}  // namespace

int main(int count, char** words) {
  if (count < 4) bench::stop("expected: bench_update NODE RIVAL.mjs TABLES.json...");
  fmt::print("update: all evidence from nothing, and every fault's chances; medians\n");
  fmt::print("{:>6} {:>6} {:34} {:>11} {:>12}\n", "faults", "slices", "", "median", "ratio");
  try {
    for (int file = 3; file < count; ++file) compare(words[1], words[2], words[file]);
  } catch (const Json::exception& error) {
    bench::stop(error.what());
  }
  fmt::print("ratio: best_posterior = 1. Target: rivals at least 1,000.\n");
}
