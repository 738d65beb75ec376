#pragma once

#include <string>
#include <vector>

#include "faults/rules.h"
#include "load/reader.h"

namespace whichlink::load {

/// Keys that the prompt itself takes, so that no symptom can have them.
constexpr std::string_view kPromptKeys = "?.<>-+!woqbukhl";

/// How far a sum of chances may be from 1: it is typed in decimals.
constexpr double kSumTolerance = 1e-9;

/// Reads one file of rules; each function one of its top keys.
class RulesReader {
 public:
  explicit RulesReader(Complaints& complaints) : complaints_(complaints) {}
  faults::Rules read(const Node& root);

 private:
  using Symptoms = Index<std::size_t>;

  // rules_senses.cc
  void read_senses(Fields& top);
  void read_sense(const Entry& entry, const Scope& scope);
  void read_symptoms(Fields& fields, faults::Sense& sense, Symptoms& index);
  void read_elsewhere(Fields& fields, faults::Sense& sense, const Symptoms& index);
  faults::Listener read_listener(const Entry& entry, const Scope& scope, const Symptoms& index);
  void check_keys(const Node* symptoms, const Node* elsewhere);
  /// Chances of each symptom of a sense that add up to 1.
  std::vector<double> read_distribution(const Entry& entry, const Scope& scope,
                                        const Symptoms& symptoms);
  /// Such chances for all senses; a sense that is left out does not notice.
  IdVector<SenseId, std::vector<double>> read_symptom_chances(const Node* node, const Scope& scope);

  // rules_moves.cc
  void read_cautions(Fields& top);
  void read_stresses(Fields& top);
  std::vector<double> read_false_alarm(const Node* node, const Scope& scope);
  void read_remedies(Fields& top);

  // rules_classes.cc
  void read_classes(Fields& top);
  void read_class(const Entry& entry, const Scope& scope);
  void read_connector(Fields& fields, faults::ElementClass& element_class);
  void read_mode(const Entry& entry, const Scope& scope, ClassId element_class);
  void read_stays(Fields& fields, faults::Mode& mode);
  void read_accidents(Fields& fields, faults::Mode& mode);
  faults::Rate read_rate(Fields& fields);
  /// low, mid and high, in ascending order.
  faults::Rate read_limits(const Node* node, const Scope& scope);

  // rules_parts.cc
  void read_parts(Fields& top);
  void read_part(const Entry& entry, const Scope& scope);
  faults::PartKind::Piece read_piece(const Entry& entry, const Scope& scope);
  void read_moulded(Fields& fields, faults::PartKind& kind, const Index<std::size_t>& pieces);
  /// A part of one piece for each class that has no part of its own name.
  void add_classes_as_parts();

  // rules.cc
  void read_signals(Fields& top);
  void read_signal(const Entry& entry, const Scope& scope);
  void read_level(Fields& fields, faults::Signal& signal);
  void read_spare_states(Fields& top);
  void read_unlisted(Fields& top);
  void read_crossed(Fields& top);
  void read_handling(Fields& top);

  // rules_use.cc
  void read_use(Fields& top);

  // rules_stores.cc
  void read_stores(Fields& top);
  void read_spare_terms(Fields& fields, faults::Stores& stores);
  void read_supplies(Fields& fields, faults::Stores& stores);
  void read_goes_on(Fields& fields, faults::Stores& stores);

  // rules_routine.cc
  void read_routine(Fields& top);
  void read_lists(Fields& fields, faults::Routine& routine);
  void read_items(Fields& fields, faults::Routine& routine);
  void read_routine_signals(Fields& fields, faults::Routine& routine);
  void read_routine_signal(const Entry& entry, const Scope& scope, faults::Routine& routine);
  void read_thresholds(Fields& fields, faults::RoutineSignal& one);
  void read_trip(const Node& node, const Scope& scope, faults::Routine& routine);
  void read_levels(Fields& fields, faults::Routine& routine);
  std::size_t read_list_name(Fields& fields);
  std::vector<double> read_frequencies(Fields& fields);
  std::vector<faults::AtFrequency> read_at_frequencies(Fields& fields, const std::string& key,
                                                       const Range& range);

  // rules_outlines.cc
  void read_outlines(Fields& top);
  void read_outline_places(Fields& fields, faults::Outlines& outlines);
  void read_outline_parts(Fields& fields, faults::Outlines& outlines);
  void read_outline_part(const Entry& entry, const Scope& scope, std::size_t place,
                         faults::Outlines& outlines);
  void read_outline(const Entry& entry, const Scope& scope, faults::Outlines& outlines);
  void read_outline_choice(const Entry& entry, const Scope& scope, faults::Outline& outline);
  std::size_t read_usual_way(Fields& fields, const std::string& key,
                             const faults::OutlineChoice& choice, bool apart);
  void read_outline_route(const Entry& entry, const Scope& scope, faults::Outline& outline,
                          const faults::Outlines& outlines);
  faults::OutlineStep read_outline_step(const Node& item, bool first, const Scope& scope,
                                        const faults::Outline& outline,
                                        const faults::Outlines& outlines);
  void read_only(Fields& fields, faults::OutlineStep& step, const faults::Outline& outline);
  void check_outline_ways(const faults::Outline& outline, const faults::Outlines& outlines,
                          const std::vector<std::vector<Here>>& at);
  void check_outline_joint(const faults::OutlineStep& before, const faults::OutlineStep& step,
                           const faults::Outlines& outlines, Here at);
  [[nodiscard]] const faults::ElementClass& class_at(const faults::OutlineStep& step,
                                                     const std::string& after_name,
                                                     const faults::Outlines& outlines) const;

  /// A sentence in which braces may only hold the word `it`.
  std::string instruction(Fields& fields, const std::string& key);
  std::vector<std::size_t> read_caution_list(Fields& fields);

  Complaints& complaints_;
  faults::Rules rules_;
  Index<std::size_t> cautions_;
  Index<std::size_t> connectors_;
  Index<SenseId> senses_;
  IdVector<SenseId, Symptoms> symptoms_;
  Index<StressId> stresses_;
  Index<RemedyId> remedies_;
  Index<ClassId> classes_;
  Index<SignalId> signals_;
  Index<std::size_t> lists_;
  Index<PartKindId> kinds_;
  Index<std::size_t> outline_places_;
  Index<std::size_t> outline_parts_;
  std::vector<std::string> outline_routes_;
  std::vector<std::vector<Here>> step_places_;  ///< of the outline that is being read, by route
};

/// `miss minutes` and `service minutes`, as rules and installations hold them.
[[nodiscard]] faults::Prices read_prices(const Node* node, const Scope& scope,
                                         Complaints& complaints);

/// The three numbers of `use`, as far as they are given.
void read_use_numbers(Fields& fields, faults::Use& use);

}  // namespace whichlink::load
