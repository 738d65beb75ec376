#include <algorithm>
#include <map>

#include "moves/arrangement.h"
#include "render/json.h"

namespace whichlink::render {
namespace {

/// Which faults stay in the tables, and under which number.
class Kept {
 public:
  Kept(const guide::Case& one, std::size_t most) {
    const moves::Setting& setting = one.setting();
    const chain::Path path =
        setting.tracer().trace(one.standing().route, setting.chain().home).path;
    std::vector<FaultId> wanted;
    if (most == 0) {
      wanted = setting.faults().ids();
    } else {
      wanted = setting.faults_on(path, one.standing().route);
      std::stable_sort(wanted.begin(), wanted.end(), [&](FaultId a, FaultId b) {
        return absent(setting, a) < absent(setting, b);
      });
      if (wanted.size() > most) wanted.resize(most);
      std::sort(wanted.begin(), wanted.end());
    }
    for (const FaultId fault : wanted) {
      number_[fault.value] = faults_.size();
      faults_.push_back(fault);
    }
  }

  [[nodiscard]] const std::vector<FaultId>& faults() const { return faults_; }
  [[nodiscard]] std::optional<std::size_t> number(std::uint32_t fault) const {
    const auto found = number_.find(fault);
    if (found == number_.end()) return std::nullopt;
    return found->second;
  }

 private:
  static double absent(const moves::Setting& setting, FaultId fault) {
    return setting.network().prior[fault.value][belief::kAbsent];
  }
  std::vector<FaultId> faults_;
  std::map<std::uint32_t, std::size_t> number_;
};

Json matrix_json(const belief::StateMatrix& matrix) {
  Json rows = Json::array();
  for (const belief::StateVector& row : matrix) rows.push_back({row[0], row[1], row[2]});
  return rows;
}

Json transitions_json(const std::vector<belief::Transition>& transitions, const Kept& kept) {
  Json json = Json::array();
  for (const belief::Transition& one : transitions) {
    const auto number = kept.number(one.fault);
    if (number) json.push_back({{"fault", *number}, {"matrix", matrix_json(one.matrix)}});
  }
  return json;
}

Json path_json(const std::vector<std::uint32_t>& path, const Kept& kept) {
  Json json = Json::array();
  for (const std::uint32_t fault : path) {
    if (const auto number = kept.number(fault)) json.push_back(*number);
  }
  return json;
}

// What a fault does while nothing touches it; moves list only the faults that they move otherwise.
using LeftAlone = std::map<std::uint32_t, belief::StateMatrix>;

LeftAlone left_alone(const guide::Case& one) {
  const moves::Move listen = *moves::find_move(one.setting(), one.standing(), "listen");
  const belief::Question question =
      moves::question_of(one.setting(), one.standing(), listen, one.standing().patching, 0);
  LeftAlone matrices;
  for (const belief::Transition& transition : question.transitions) {
    matrices[transition.fault] = transition.matrix;
  }
  return matrices;
}

belief::StateMatrix matrix_at(const LeftAlone& matrices, std::uint32_t fault) {
  const auto found = matrices.find(fault);
  return found == matrices.end() ? belief::kIdentity : found->second;
}

std::vector<belief::Transition> moved_otherwise(const std::vector<belief::Transition>& transitions,
                                                const LeftAlone& resting) {
  std::vector<belief::Transition> moved;
  for (const belief::Transition& one : transitions) {
    if (one.matrix != matrix_at(resting, one.fault)) moved.push_back(one);
  }
  return moved;
}

Json question_json(const moves::Setting& setting, const belief::Question& question,
                   const Kept& kept, const LeftAlone& resting) {
  return {
      {"sense", setting.rules().senses[SenseId{static_cast<std::uint32_t>(question.sense)}].name},
      {"transitions", transitions_json(moved_otherwise(question.transitions, resting), kept)},
      {"path", path_json(question.path, kept)},
      {"leak_at_most", question.leak_at_most},
      {"report", question.report}};
}

Json slice_json(const moves::Setting& setting, const belief::Slice& slice, const Kept& kept) {
  const SenseId sense{static_cast<std::uint32_t>(slice.hearing.sense)};
  return {{"sense", setting.rules().senses[sense].name},
          {"transitions", transitions_json(slice.transitions, kept)},
          {"path", path_json(slice.hearing.path, kept)},
          {"leak_at_most", slice.hearing.leak_at_most},
          {"chance_of_report", slice.hearing.chance_of_report}};
}

Json faults_json(const moves::Setting& setting, const Kept& kept, const LeftAlone& resting) {
  Json json = Json::array();
  for (const FaultId fault : kept.faults()) {
    const belief::StateVector& prior = setting.network().prior[fault.value];
    Json at_most = Json::object();
    for (const SenseId sense : setting.rules().senses.ids()) {
      at_most[setting.rules().senses[sense].name] =
          setting.network().at_most[sense.value][fault.value];
    }
    json.push_back({{"name", setting.name_of(fault)},
                    {"family", setting.family_of(fault)},
                    {"prior", {prior[0], prior[1], prior[2]}},
                    {"left_alone", matrix_json(matrix_at(resting, fault.value))},
                    {"at_most", at_most}});
  }
  return json;
}

// The network and the slices with only the kept faults, renumbered.
belief::Network cut(const belief::Network& network, const Kept& kept) {
  belief::Network out;
  for (const FaultId fault : kept.faults()) out.prior.push_back(network.prior[fault.value]);
  for (const auto& rows : network.at_most) {
    out.at_most.emplace_back();
    for (const FaultId fault : kept.faults()) out.at_most.back().push_back(rows[fault.value]);
  }
  return out;
}

belief::Slice cut(const belief::Slice& slice, const Kept& kept) {
  belief::Slice out = slice;
  out.transitions.clear();
  out.hearing.path.clear();
  for (const belief::Transition& one : slice.transitions) {
    const auto number = kept.number(one.fault);
    if (number) out.transitions.push_back({static_cast<std::uint32_t>(*number), one.matrix});
  }
  for (const std::uint32_t fault : slice.hearing.path) {
    const auto number = kept.number(fault);
    if (number) out.hearing.path.push_back(static_cast<std::uint32_t>(*number));
  }
  return out;
}

Json arrangements_json(const guide::Case& one, const Kept& kept, const LeftAlone& resting) {
  const moves::Setting& setting = one.setting();
  const belief::Network network = cut(setting.network(), kept);
  Json json = Json::array();
  for (const plan::Hypothesis& hypothesis : one.belief().hypotheses()) {
    std::vector<belief::Slice> slices;
    Json evidence = Json::array();
    for (const belief::Slice& slice : hypothesis.slices) {
      evidence.push_back(slice_json(setting, slice, kept));
      slices.push_back(cut(slice, kept));
    }
    const belief::Posterior posterior = belief::best_posterior(network, slices).posterior;
    Json marginals = Json::array();
    for (const belief::StateVector& marginal : posterior.marginal) {
      marginals.push_back({marginal[0], marginal[1], marginal[2]});
    }
    Json moves_here = Json::array();
    for (const moves::Move& move : moves::derive_moves(setting, one.standing())) {
      const belief::Question question = moves::question_of(
          setting, one.standing(), move, hypothesis.real, one.belief().listener());
      Json item = {{"move", move.name}, {"minutes", move.minutes}};
      item.update(question_json(setting, question, kept, resting));
      moves_here.push_back(item);
    }
    json.push_back({{"words", hypothesis.arrangement.words},
                    {"prior", hypothesis.arrangement.prior},
                    {"evidence", evidence},
                    {"log_evidence", posterior.log_evidence},
                    {"left_out", posterior.left_out},
                    {"posterior", marginals},
                    {"moves", moves_here}});
  }
  return json;
}

}  // namespace

Json tables_json(const guide::Case& one, std::size_t most_faults) {
  const moves::Setting& setting = one.setting();
  const Kept kept(one, most_faults);
  const LeftAlone resting = left_alone(one);
  Json senses = Json::object();
  for (const faults::Sense& sense : setting.rules().senses) {
    Json names = Json::array();
    for (const faults::Symptom& symptom : sense.symptoms) names.push_back(symptom.name);
    senses[sense.name] = {{"severities", names}};
    if (sense.elsewhere) senses[sense.name]["elsewhere"] = sense.elsewhere->name;
  }
  return {{"installation", setting.installation().name},
          {"route", one.events().route},
          {"days_since_pass", setting.days_since_pass()},
          {"states", {"absent", "quiet", "showing"}},
          {"senses", senses},
          {"prices",
           {{"miss_minutes", setting.installation().prices.miss_minutes},
            {"service_minutes", setting.installation().prices.service_minutes}}},
          {"faults", faults_json(setting, kept, resting)},
          {"arrangements", arrangements_json(one, kept, resting)}};
}

}  // namespace whichlink::render
