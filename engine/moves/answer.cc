#include <cmath>

#include "moves/arrangement.h"

namespace whichlink::moves {
namespace {

std::size_t outcomes_of(const faults::Sense& sense) {
  return sense.severities() + (sense.elsewhere ? 1 : 0);
}

}  // namespace

ReportWeights weights_of_outcome(const faults::Sense& sense, std::size_t outcome) {
  ReportWeights weights(outcomes_of(sense), 0.0);
  weights[outcome] = 1;
  return weights;
}

ReportWeights weights_of_drop(const faults::Sense& sense, double drop_db) {
  ReportWeights weights(outcomes_of(sense), 0.0);
  for (std::size_t severity = 0; severity < sense.severities(); ++severity) {
    const std::optional<double> own_drop = sense.symptoms[severity].drop_db;
    if (!own_drop) continue;
    const double deviations = (drop_db - *own_drop) / sense.level_spread_db;
    weights[severity] = std::exp(-0.5 * deviations * deviations);
  }
  return weights;
}

ReportWeights weights_of_nothing(const faults::Sense& sense) {
  ReportWeights weights(outcomes_of(sense), 1.0);
  return weights;
}

belief::Slice answered(const belief::Question& question, const ReportWeights& weights) {
  belief::Slice slice;
  slice.transitions = question.transitions;
  slice.hearing.path = question.path;
  slice.hearing.sense = question.sense;
  slice.hearing.leak_at_most = question.leak_at_most;
  slice.hearing.chance_of_report.reserve(question.report.size());
  for (const std::vector<double>& row : question.report) {
    double chance = 0;
    for (std::size_t outcome = 0; outcome < row.size(); ++outcome) {
      chance += row[outcome] * weights[outcome];
    }
    slice.hearing.chance_of_report.push_back(chance);
  }
  return slice;
}

}  // namespace whichlink::moves
