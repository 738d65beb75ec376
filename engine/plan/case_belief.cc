#include "plan/case_belief.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "moves/standing.h"

namespace whichlink::plan {
namespace {

// The working belief, which every candidate move is asked of, holds pairs of faults and drops sets
// that are a hundred-thousandth of the whole; the picture that people see is computed apart,
// exactly.
constexpr std::size_t kWorkingSetSize = 2;
constexpr double kWorkingPrune = 1e-5;
// An arrangement lighter than this cannot change which move is best.
constexpr double kLightestArrangement = 1e-4;

AskedOfAll pointers_to(const std::vector<Asked>& asked) {
  AskedOfAll pointers;
  pointers.reserve(asked.size());
  for (const Asked& one : asked) pointers.push_back(&one);
  return pointers;
}

// Nothing of it yet; in the room that it has.
void begin(Prediction& prediction, std::size_t outcomes, std::size_t faults) {
  prediction.resize(outcomes);
  for (PredictedOutcome& one : prediction) {
    one.chance = one.crossed = one.something_wrong = 0;
    one.present.assign(faults, 0);
  }
}

// Sums of rounded chances may end a last digit outside.
double as_chance(double sum) {
  return std::clamp(sum, 0.0, 1.0);
}

}  // namespace

chain::Patching settled(const moves::Setting& setting, const moves::Standing& standing) {
  if (!standing.temporary) return standing.patching;
  return moves::with_changes(setting.chain(), standing.patching, standing.temporary->back);
}

moves::Standing all_put_back(const moves::Setting& setting, moves::Standing standing) {
  standing.patching = settled(setting, standing);
  standing.temporary.reset();
  standing.place = setting.installation().start;
  return standing;
}

std::vector<bool> faults_that_matter(const moves::Setting& setting,
                                     const moves::Standing& standing) {
  std::vector<bool> mask(setting.faults().size(), false);
  const chain::Path path = setting.tracer().trace(standing.route, settled(setting, standing)).path;
  for (const FaultId fault : setting.faults_on(path, standing.route)) mask[fault.value] = true;
  return mask;
}

std::vector<bool> faults_in(const moves::Setting& setting, ElementId element) {
  std::vector<bool> mask(setting.faults().size(), false);
  for (const FaultId fault : setting.faults_of(element)) mask[fault.value] = true;
  return mask;
}

std::vector<bool> faults_in(const moves::Setting& setting, PartId part) {
  std::vector<bool> mask(setting.faults().size(), false);
  for (const ElementId element : setting.chain().parts[part].elements) {
    for (const FaultId fault : setting.faults_of(element)) mask[fault.value] = true;
  }
  return mask;
}

CaseBelief::CaseBelief(const moves::Setting& setting, RouteId route, std::size_t listener,
                       const moves::ReportWeights& complaint)
    : setting_(setting), route_(route), listener_(listener) {
  for (moves::Arrangement& arrangement : moves::arrangements_of(setting, route)) {
    const belief::Slice slice = moves::answered(
        moves::complaint_of(setting, route, arrangement.patching, listener), complaint);
    chain::Patching real = arrangement.patching;
    hypotheses_.push_back({std::move(arrangement),
                           std::move(real),
                           {},
                           belief::SetBelief(setting.network(), kWorkingSetSize, kWorkingPrune),
                           0});
    hypotheses_.back().belief.apply(slice);
    hypotheses_.back().slices.push_back(slice);
    const SignalId signal = setting.chain().routes[route].signal;
    const belief::Slice settled_down =
        moves::settling(setting, setting.rules().signals[signal].sense);
    hypotheses_.back().belief.apply(settled_down);
    hypotheses_.back().slices.push_back(settled_down);
  }
  reweigh();
}

CaseBelief::CaseBelief(const CaseBelief& thick, double share)
    : setting_(thick.setting_),
      route_(thick.route_),
      listener_(thick.listener_),
      possible_(thick.possible_) {
  for (const Hypothesis& one : thick.hypotheses_) {
    hypotheses_.push_back({one.arrangement, one.real, {}, one.belief.thinned(share), one.weight});
  }
}

CaseBelief CaseBelief::thinned(double share) const {
  return {*this, share};
}

void CaseBelief::take_in(const moves::Standing& standing, const moves::Move& move,
                         const moves::ReportWeights& report, const QuestionOf& question) {
  for (Hypothesis& one : hypotheses_) {
    one.slices.push_back(moves::answered(question(one.real), report));
    one.belief.apply(one.slices.back());
    one.real = moves::patched_after(setting_, standing, move, one.real);
  }
  reweigh();
}

void CaseBelief::take_in(const moves::Standing& standing, const moves::Move& move,
                         const moves::ReportWeights& report) {
  belief::Question asked;
  take_in(standing, move, report, [&](const chain::Patching& real) -> const belief::Question& {
    asked = moves::question_of(setting_, standing, move, real, listener_);
    return asked;
  });
}

void CaseBelief::reweigh() {
  double largest = -std::numeric_limits<double>::infinity();
  std::vector<double> logs;
  for (const Hypothesis& one : hypotheses_) {
    logs.push_back(std::log(one.arrangement.prior) + one.belief.log_evidence());
    largest = std::max(largest, logs.back());
  }
  possible_ = std::isfinite(largest);
  double total = 0;
  for (std::size_t index = 0; index < hypotheses_.size(); ++index) {
    hypotheses_[index].weight =
        possible_ ? std::exp(logs[index] - largest) : hypotheses_[index].arrangement.prior;
    total += hypotheses_[index].weight;
  }
  for (Hypothesis& one : hypotheses_) one.weight /= total;
}

bool CaseBelief::is_asked(const Hypothesis& one) {
  return one.weight >= kLightestArrangement;
}

Asked ask(const moves::Setting& setting, const moves::Standing& standing, const moves::Move& move,
          const moves::Standing& next, const chain::Patching& real, std::size_t listener) {
  const chain::Patching real_after = moves::patched_after(setting, standing, move, real);
  return {{moves::question_of(setting, standing, move, real, listener), setting.network()},
          !(real_after.plug_in == next.patching.plug_in)};
}

std::vector<Asked> CaseBelief::ask(const moves::Standing& standing, const moves::Move& move) const {
  const moves::Standing next = moves::after(setting_, standing, move);
  std::vector<Asked> asked;
  for (const Hypothesis& one : hypotheses_) {
    asked.push_back(is_asked(one) ? plan::ask(setting_, standing, move, next, one.real, listener_)
                                  : Asked{});
  }
  return asked;
}

Prediction CaseBelief::predict(const moves::Standing& standing, const moves::Move& move) const {
  const std::vector<Asked> asked = ask(standing, move);
  Reports reports;
  belief::Forecaster buffers;
  const moves::Standing next = moves::after(setting_, standing, move);
  Prediction prediction;
  predict(pointers_to(asked), faults_that_matter(setting_, next),
          belief::wanted(std::vector<bool>(setting_.faults().size(), true)), prediction, reports,
          buffers);
  return prediction;
}

double CaseBelief::bits(const moves::Standing& standing, const moves::Move& move) const {
  const std::vector<Asked> asked = ask(standing, move);
  const AskedOfAll of_all = pointers_to(asked);
  const std::vector<bool> none(setting_.faults().size());
  Prediction prediction;
  Reports reports;
  belief::Forecaster buffers;
  predict(of_all, none, belief::wanted(none), prediction, reports, buffers);
  return bits(of_all, reports, buffers);
}

void CaseBelief::predict(const AskedOfAll& asked, const std::vector<bool>& matters,
                         const belief::Wanted& wanted, Prediction& prediction, Reports& reports,
                         belief::Forecaster& buffers) const {
  const std::size_t count = wanted.faults.size();
  double considered = 0;
  reports.noise = 0;
  std::size_t order = 0;  // among those that are asked
  for (std::size_t number = 0; number < hypotheses_.size(); ++number) {
    const Hypothesis& one = hypotheses_[number];
    if (!is_asked(one)) continue;
    considered += one.weight;
    const bool crossed = asked[number]->crossed;
    one.belief.forecast(asked[number]->question, matters, wanted, buffers);
    if (order == 0) begin(prediction, buffers.reports(), count);
    reports.noise += one.weight * buffers.noise();
    reports.chances.resize(std::max(reports.chances.size(), order + 1));
    std::vector<double>& chances = reports.chances[order++];
    chances.clear();
    for (std::size_t index = 0; index < prediction.size(); ++index) {
      const double chance = buffers.chance(index);
      chances.push_back(chance);
      PredictedOutcome& sum = prediction[index];
      const double weight = one.weight * chance;
      if (weight <= 0) continue;
      sum.chance += weight;
      const std::span<const double> present = buffers.present(index);
      for (std::size_t place = 0; place < count; ++place) {
        sum.present[place] += weight * present[place];
      }
      if (crossed) sum.crossed += weight;
      sum.something_wrong += weight * (crossed ? 1 : 1 - buffers.none_present(index));
    }
  }
  reports.noise /= considered;
  for (PredictedOutcome& outcome : prediction) {
    if (outcome.chance <= 0) continue;
    for (double& present : outcome.present) present /= outcome.chance;
    outcome.crossed = as_chance(outcome.crossed / outcome.chance);
    outcome.something_wrong = as_chance(outcome.something_wrong / outcome.chance);
    outcome.chance = as_chance(outcome.chance / considered);
  }
}

double CaseBelief::bits(const AskedOfAll& asked, const Reports& reports,
                        belief::Forecaster& buffers) const {
  double bits = 0;
  double considered = 0;
  std::vector<double> mixed;  // chance by outcome
  std::vector<double> weights;
  for (std::size_t number = 0; number < hypotheses_.size(); ++number) {
    const Hypothesis& one = hypotheses_[number];
    if (!is_asked(one)) continue;
    const std::vector<double>& by_outcome = reports.chances[weights.size()];
    considered += one.weight;
    bits += one.weight * one.belief.bits(asked[number]->question, buffers);
    weights.push_back(one.weight);
    mixed.resize(by_outcome.size());
    for (std::size_t index = 0; index < mixed.size(); ++index) {
      mixed[index] += one.weight * by_outcome[index];
    }
  }
  // What the report says of the arrangement itself comes on top (chain rule of mutual information).
  for (std::size_t index = 0; index < weights.size(); ++index) {
    for (std::size_t outcome = 0; outcome < mixed.size(); ++outcome) {
      const double given = reports.chances[index][outcome];
      if (given > 0)
        bits += weights[index] * given * std::log2(given * considered / mixed[outcome]);
    }
  }
  return bits / considered;
}

double CaseBelief::most_bits(const AskedOfAll& asked, const Prediction& prediction,
                             const Reports& reports) const {
  for (std::size_t number = 0; number < hypotheses_.size(); ++number) {
    const Hypothesis& one = hypotheses_[number];
    if (is_asked(one) && !one.belief.has_heard(asked[number]->question.question().path))
      return HUGE_VAL;
  }
  constexpr double kRoundings = 1e-9;
  double bits = kRoundings - reports.noise;
  for (const PredictedOutcome& outcome : prediction) {
    if (outcome.chance > 0) bits -= outcome.chance * std::log2(outcome.chance);
  }
  return bits;
}

double CaseBelief::crossed_now(const moves::Standing& standing) const {
  double crossed = 0;
  for (const Hypothesis& one : hypotheses_) {
    if (!(one.real.plug_in == standing.patching.plug_in)) crossed += one.weight;
  }
  return as_chance(crossed);
}

double CaseBelief::something_wrong(const moves::Standing& standing) const {
  const std::vector<bool> matters = faults_that_matter(setting_, standing);
  double wrong = 0;
  for (const Hypothesis& one : hypotheses_) {
    const bool crossed = !(one.real.plug_in == standing.patching.plug_in);
    wrong += one.weight * (crossed ? 1 : 1 - one.belief.none_of(matters));
  }
  return as_chance(wrong);
}

double CaseBelief::any_now(const std::vector<bool>& about) const {
  double none = 0;
  for (const Hypothesis& one : hypotheses_) none += one.weight * one.belief.none_of(about);
  return as_chance(1 - none);
}

std::vector<double> CaseBelief::present_now() const {
  std::vector<double> present(setting_.faults().size(), 0.0);
  for (const Hypothesis& one : hypotheses_) {
    const belief::Posterior posterior = one.belief.posterior();
    for (std::size_t fault = 0; fault < present.size(); ++fault) {
      present[fault] += one.weight * (1 - posterior.marginal[fault][belief::kAbsent]);
    }
  }
  return present;
}

Picture CaseBelief::picture(const moves::Standing& standing) const {
  Picture picture;
  picture.marginal.resize(setting_.faults().size(), {0, 0, 0});
  std::vector<belief::Choice> choices;
  std::vector<double> weights;
  double largest = -std::numeric_limits<double>::infinity();
  for (const Hypothesis& one : hypotheses_) {
    choices.push_back(belief::best_posterior(setting_.network(), one.slices));
    const belief::Posterior& posterior = choices.back().posterior;
    weights.push_back(std::log(one.arrangement.prior) + posterior.log_evidence);
    largest = std::max(largest, weights.back());
  }
  double total = 0;
  for (double& weight : weights) {
    weight = std::isfinite(largest) ? std::exp(weight - largest) : 1;
    total += weight;
  }
  picture.log_evidence = largest + std::log(total);
  for (std::size_t index = 0; index < hypotheses_.size(); ++index) {
    const double weight = weights[index] / total;
    const belief::Posterior& posterior = choices[index].posterior;
    for (std::size_t fault = 0; fault < picture.marginal.size(); ++fault) {
      for (std::size_t state = 0; state < belief::kStates; ++state) {
        picture.marginal[fault][state] += weight * posterior.marginal[fault][state];
      }
    }
    const bool crossed = !(hypotheses_[index].real.plug_in == standing.patching.plug_in);
    if (crossed) picture.crossed += weight;
    picture.left_out = std::max(picture.left_out, weight > 0 ? posterior.left_out : 0);
    picture.digits_lost = std::max(picture.digits_lost, posterior.digits_lost);
  }
  picture.exact = picture.left_out == 0;
  picture.crossed = as_chance(picture.crossed);
  picture.unlisted =
      as_chance(1 - picture.marginal[setting_.unlisted_of(route_).value][belief::kAbsent]);
  picture.something_wrong = something_wrong(standing);
  return picture;
}

std::vector<double> CaseBelief::present_at_start(const std::vector<FaultId>& faults) const {
  // Bayes, with the fault's prior made certain: P(f | all) = P(f) P(all | f) / P(all).
  std::vector<double> chances;
  const auto log_evidence = [&](const belief::Network& network) {
    double sum = 0;
    for (const Hypothesis& one : hypotheses_) {
      if (!is_asked(one)) continue;
      const double log_one =
          belief::by_subsets(network, one.slices, kWorkingSetSize, kWorkingPrune).log_evidence;
      sum += one.arrangement.prior * std::exp(log_one);
    }
    return std::log(sum);
  };
  const double all = log_evidence(setting_.network());
  for (const FaultId fault : faults) {
    belief::Network certain = setting_.network();
    belief::StateVector& prior = certain.prior[fault.value];
    const double present = 1 - prior[belief::kAbsent];
    if (present <= 0) {
      chances.push_back(0);
      continue;
    }
    prior = {0, prior[belief::kQuiet] / present, prior[belief::kShowing] / present};
    chances.push_back(std::min(1.0, present * std::exp(log_evidence(certain) - all)));
  }
  return chances;
}

std::vector<double> CaseBelief::arranged_at_start() const {
  std::vector<double> chances;
  for (const Hypothesis& one : hypotheses_) chances.push_back(one.weight);
  return chances;
}

}  // namespace whichlink::plan
