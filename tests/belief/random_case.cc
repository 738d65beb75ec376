#include "belief/random_case.h"

#include <algorithm>

namespace whichlink::referee {
namespace {

using belief::StateMatrix;
using belief::StateVector;

StateVector normalised(StateVector vector) {
  const double total = vector[0] + vector[1] + vector[2];
  for (double& entry : vector) entry /= total;
  return vector;
}

StateVector random_vector(Random& random) {
  StateVector vector{random.uniform() + 1e-3, random.uniform(), random.uniform()};
  if (random.chance(.15)) vector[1 + random.below(2)] = 0;
  return normalised(vector);
}

StateVector random_prior(Random& random, bool small) {
  const std::uint32_t kind = random.below(10);
  if (kind == 0) return {1, 0, 0};
  const double present = small || kind < 5 ? .001 + .049 * random.uniform() : random.uniform();
  const double showing = random.chance(.1) ? 1 : random.uniform();
  return {1 - present, present * (1 - showing), present * showing};
}

StateMatrix random_matrix(Random& random, const Shape& shape) {
  StateMatrix matrix = belief::kIdentity;
  const double keeps = random.chance(.2) ? 0 : random.uniform();
  const double shows = random.uniform();
  for (const auto from : {belief::kQuiet, belief::kShowing}) {
    const double kept = from == belief::kQuiet ? keeps * (1 - shows) : keeps;
    matrix[from] = {0, (1 - kept) * (1 - shows), (1 - kept) * shows};
    matrix[from][from] += kept;
  }
  if (shape.cures && random.chance(.3)) {
    const double cured = random.chance(.3) ? 1 : random.uniform();
    for (const auto from : {belief::kQuiet, belief::kShowing}) {
      for (double& entry : matrix[from]) entry *= 1 - cured;
      matrix[from][belief::kAbsent] += cured;
    }
  }
  if (shape.appears && random.chance(.3)) {
    const double appears = shape.small_priors ? .01 * random.uniform() : random.uniform();
    const double showing = random.chance(.2) ? 1 : random.uniform();
    matrix[belief::kAbsent] = {1 - appears, appears * (1 - showing), appears * showing};
  }
  if (shape.cures && shape.appears && random.chance(.15)) {  // replaced: the same, whatever it was
    const StateVector spare = random_prior(random, true);
    matrix = {spare, spare, spare};
  }
  if (shape.cures && shape.appears && !shape.small_priors && random.chance(.15)) {
    for (StateVector& row : matrix) row = random_vector(random);
  }
  return matrix;
}

std::vector<double> random_at_most(Random& random, std::uint32_t severities) {
  std::vector<double> at_most;
  if (random.chance(.2)) {  // always the same severity
    const std::uint32_t severity = random.below(severities);
    for (std::uint32_t s = 0; s < severities; ++s) at_most.push_back(s < severity ? 0 : 1);
    return at_most;
  }
  for (std::uint32_t s = 0; s < severities; ++s) at_most.push_back(random.uniform());
  if (random.chance(.3)) at_most[random.below(severities)] = 0;
  std::sort(at_most.begin(), at_most.end());
  if (severities > 2 && random.chance(.3)) at_most[1] = at_most[0];
  at_most.back() = 1;
  return at_most;
}

std::vector<double> random_leak(Random& random, std::uint32_t severities) {
  if (random.chance(.5)) return std::vector<double>(severities, 1);
  return random_at_most(random, severities);
}

std::vector<double> random_report(Random& random, const Shape& shape, std::uint32_t severities) {
  std::vector<double> chance(severities, 1);
  const std::uint32_t kind = random.below(6);
  if (kind == 0) return chance;
  for (double& entry : chance) entry = .01 + .99 * random.uniform();
  if (kind >= 4 && shape.impossible) {
    for (double& entry : chance) entry = random.chance(.5) ? 0 : entry;
    chance[random.below(severities)] = kind == 4 ? 1 : .5;
  }
  return chance;
}

std::vector<std::uint32_t> random_path(Random& random, std::size_t faults) {
  std::vector<std::uint32_t> path;
  const double share = random.chance(.2) ? 1 : random.uniform();
  for (std::uint32_t fault = 0; fault < faults; ++fault) {
    if (random.chance(share)) path.push_back(fault);
  }
  return path;
}

std::vector<belief::Transition> random_transitions(Random& random, const Shape& shape,
                                                   std::size_t faults) {
  std::vector<belief::Transition> transitions;
  const double share = random.uniform();
  for (std::uint32_t fault = 0; fault < faults; ++fault) {
    if (random.chance(share)) transitions.push_back({fault, random_matrix(random, shape)});
  }
  return transitions;
}

}  // namespace

Case random_case(Random& random, const Shape& shape) {
  Case result;
  const std::uint32_t faults =
      shape.least_faults + random.below(shape.most_faults - shape.least_faults + 1);
  for (std::uint32_t fault = 0; fault < faults; ++fault) {
    result.network.prior.push_back(random_prior(random, shape.small_priors));
  }
  for (std::size_t sense = 0; sense < 2; ++sense) {
    const std::uint32_t severities = 2 + random.below(shape.most_severities - 1);
    result.network.at_most.emplace_back();
    for (std::uint32_t fault = 0; fault < faults; ++fault) {
      result.network.at_most[sense].push_back(random_at_most(random, severities));
    }
  }
  const std::uint32_t slices = 1 + random.below(shape.most_slices);
  for (std::uint32_t slice = 0; slice < slices; ++slice) {
    const std::size_t sense = random.below(2);
    const auto severities = static_cast<std::uint32_t>(result.network.severities(sense));
    belief::Slice next;
    next.transitions = random_transitions(random, shape, faults);
    next.hearing = {random_path(random, faults), sense, random_leak(random, severities),
                    random_report(random, shape, severities)};
    result.slices.push_back(next);
  }
  return result;
}

belief::Question random_question(Random& random, const Shape& shape,
                                 const belief::Network& network) {
  belief::Question question;
  question.sense = random.below(2);
  const auto severities = static_cast<std::uint32_t>(network.severities(question.sense));
  question.transitions = random_transitions(random, shape, network.faults());
  question.path = random_path(random, network.faults());
  question.leak_at_most = random_leak(random, severities);
  const std::uint32_t outcomes = 1 + random.below(5);
  for (std::uint32_t severity = 0; severity < severities; ++severity) {
    std::vector<double> row(outcomes, 0);
    double total = 0;
    for (double& entry : row) entry = random.chance(.6) ? random.uniform() : 0;
    row[random.below(outcomes)] += .1;
    for (const double entry : row) total += entry;
    for (double& entry : row) entry /= total;
    question.report.push_back(row);
  }
  return question;
}

std::vector<bool> random_mask(Random& random, std::size_t faults) {
  const double share = random.chance(.3) ? 1 : random.uniform();
  std::vector<bool> mask(faults);
  for (std::size_t fault = 0; fault < faults; ++fault) mask[fault] = random.chance(share);
  return mask;
}

}  // namespace whichlink::referee
