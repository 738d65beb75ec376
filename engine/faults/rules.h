#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/ids.h"
#include "faults/outlines.h"
#include "faults/rate.h"
#include "faults/stores.h"

/// What can go bad, how it shows, what provokes and what mends it: plain values of one trade, as
/// read from a file of rules. Nothing here knows which trade it is.
namespace whichlink::faults {

/// What a person can report through a sense, in ascending severity; the first is "nothing wrong".
struct Symptom {
  std::string name;
  std::string words;              ///< how a colleague says it
  std::string key;                ///< the key that answers it at a prompt, one character
  std::optional<double> drop_db;  ///< how far the level is down, where the symptom is a level
};

/// The chance of each report given the true severity. report[true][reported]; rows add up to 1.
struct Listener {
  std::string name;
  std::vector<std::vector<double>> report;
  std::string source;
};

/// A way of finding out: the ear, a meter, a lamp that one watches.
struct Sense {
  std::string name;
  std::string asks;  ///< the question put at the prompt
  std::vector<Symptom> symptoms;
  std::vector<Listener> listeners;
  /// What is reported when the signal comes out at another end than the route's own; no severity of
  /// its own, the graph decides it. Absent where a sense cannot tell.
  std::optional<Symptom> elsewhere;
  double chance_elsewhere_noticed = 1;  ///< that it is reported as such, when it is audible at all
  double level_spread_db = 5;           ///< standard deviation of a stated level drop, dB
  std::string source;

  [[nodiscard]] std::size_t severities() const { return symptoms.size(); }
  /// Index of a symptom by name; severities() for `elsewhere`.
  [[nodiscard]] std::optional<std::size_t> find(const std::string& symptom) const;
  /// The other way round.
  [[nodiscard]] const std::string& outcome_name(std::size_t outcome) const {
    return outcome < symptoms.size() ? symptoms[outcome].name : elsewhere->name;
  }
};

/// A sentence that keeps somebody from harm; `hurts` marks those that no option may hide.
struct Caution {
  std::string name;
  std::string words;
  bool hurts = false;
};

struct Stress {
  std::string name;
  std::string words;        ///< instruction; "{it}" stands for the element
  std::string short_words;  ///< a few words for a list: "flex {it}"
  double minutes = 0;
  /// Chance that stressing a sound element makes each severity of the ear's sense (index =
  /// severity); adds up to 1.
  std::vector<double> false_alarm;
  std::vector<std::size_t> cautions;  ///< indices into Rules::cautions
  std::string source;
};

struct Remedy {
  std::string name;
  std::string words;  ///< instruction; "{it}" stands for the element or joint
  std::string short_words;
  double minutes = 0;
  bool whole_joint = false;              ///< acts on both halves of a plugged joint
  bool unplugs = false;                  ///< the plug is pulled and pushed in again
  bool by_service = false;               ///< never offered as a move: it goes into the hand-over
  std::vector<std::string> uses;         ///< things used up
  std::vector<std::string> needs_after;  ///< what must be done before the route is used again
  std::vector<std::size_t> cautions;
  std::string source;
};

enum class Reach { lane, whole };  ///< one lane of the element, or all of them at once

/// One way in which an element goes bad.
struct Mode {
  std::string name;
  std::string words;   ///< what is wrong, as said to a colleague: "a conductor broken in {it}"
  std::string family;  ///< a coarse kind (seating, contact, cord, transducer ...) for reports
  ClassId element_class;
  Rate rate;
  Reach reach = Reach::lane;
  double chance_shows = 1;      ///< that a present fault shows when it is drawn anew untouched
  double stays_left_alone = 1;  ///< that it keeps quiet/showing while nobody touches it, per move
  double stays_disturbed = 1;   ///< that it keeps quiet/showing when its element is moved
  /// symptom_chance[sense][severity], given that it shows; adds up to 1 for each sense.
  IdVector<SenseId, std::vector<double>> symptom_chance;
  std::map<StressId, double> provoked_by;  ///< chance that it shows under that stress
  std::map<StressId, double>
      cured_by_stress;  ///< accidental cure: chance that it is gone after that stress
  double cured_by_replug =
      0;  ///< accidental cure: chance that pulling and pushing the plug removes it
  double caused_by_replug = 0;  ///< chance that pulling and pushing the plug brings it about
  std::map<RemedyId, double> remedies;  ///< chance that each remedy removes it
  std::string source;
};

enum class Role { link, source, end, plug, jack };

struct ElementClass {
  std::string name;
  std::string words;
  Role role = Role::link;
  std::optional<std::string> connector;  ///< kind; plugs and jacks only
  std::vector<StressId> stresses;
  std::vector<ModeId> modes;
  std::vector<std::size_t> cautions;
};

/// A thing that is held in the hand and changed as one: its elements and the joints moulded into
/// it.
struct PartKind {
  std::string name;
  std::string words;
  struct Piece {
    std::string name;  ///< empty for a part of one element
    ClassId element_class;
    std::vector<std::string> lanes;  ///< names; empty for one unnamed lane
  };
  std::vector<Piece> pieces;
  struct Moulded {
    std::size_t piece_a = 0, piece_b = 0;
    std::optional<std::size_t> lane_a, lane_b;  ///< absent: lane by lane (or the only one)
  };
  std::vector<Moulded> moulded;
  bool exchangeable = false;  ///< staff may change it for another of its kind
  double exchange_minutes = 0;
  double price_minutes = 0;              ///< price of a new one, as minutes
  std::vector<std::string> needs_after;  ///< after it was changed for good
  std::vector<std::size_t> cautions;     ///< shown when it is changed or borrowed
  std::string source;

  /// A piece, or one lane of it.
  struct Spot {
    std::size_t piece = 0;
    std::optional<std::size_t> lane;
  };
  /// What stands after the part's name in an installation: "piece", "piece.lane", of a part of one
  /// piece "lane" or nothing at all. Nothing where it names none of them.
  [[nodiscard]] std::optional<Spot> find(const std::string& after_name) const;
};

/// What a route carries while it is listened to.
struct Signal {
  std::string name;
  SenseId sense;
  std::string words;                 ///< "a steady 1000 Hz tone at 70 dB HL"
  std::optional<double> level;       ///< with its unit, as played during a check
  std::optional<double> level_high;  ///< upper end where a range is given
  std::string level_unit;
  double minutes = 0;  ///< to set it and to listen once
  std::map<std::string, std::string>
      symptom_words;  ///< by symptom name: other words on this signal
  std::vector<std::size_t> cautions;
  std::string source;
};

/// The state a spare is in, with the chance that it is bad itself.
struct SpareState {
  std::string name;
  double chance_bad = 0;
  bool is_spare =
      true;  ///< counts as one that is to hand; nobody relies on a part of unknown state
  std::string source;
};

/// A cause that the rules do not list: on its route whatever is plugged where, and no move cures
/// it.
struct Unlisted {
  Rate rate;
  double chance_shows = 1;
  double stays = 1;
  IdVector<SenseId, std::vector<double>> symptom_chance;
  std::string source;
};

/// Two plugs of a pair of routes, each in the other's jack.
struct Crossing {
  std::string words;
  Rate rate;  ///< per pair of plugs
  std::string
      trace_words;  ///< instruction for following a route by its colours and putting it right
  double trace_minutes = 0;
  std::string source;
};

struct Prices {
  double miss_minutes = 0;     ///< closing a case with the fault still in
  double service_minutes = 0;  ///< calling service
  std::string source;
};

struct Handling {
  double replug_minutes = 0;  ///< one plug out of one jack and into another
  double alone_minutes = 0;   ///< added when one person must act in one place and listen in another
  double measure_minutes = 0;  ///< continuity of one part, both ends free
  double default_days_since_pass = 0;
  std::string measure_words;
  std::string source;
};

/// How much an installation is used, and what goes by unnoticed: for looking back and for how often
/// to check.
struct Use {
  double sessions_per_day = 0;  ///< on a day of use
  double days_per_year = 0;     ///< days of use, 0 < . <= 366
  double spoilt_minutes = 0;    ///< price of a session that a fault spoilt
  /// The share of sessions that use routes of each signal.
  IdVector<SignalId, double> share_of_sessions;
  /// noticed[sense][severity]: the chance that a session which that symptom spoils makes somebody
  /// look for a fault.
  IdVector<SenseId, std::vector<double>> noticed;
  std::string source;
};

/// One list of the routine check: how often somebody goes through it.
struct RoutineList {
  std::string name;
  std::string words;  ///< "on each day of use"
  double every_days = 1;
  std::vector<std::size_t> takes_in;  ///< earlier lists that it holds as well
  std::string source;

  /// Whether it holds what belongs to the list of that index. @param own  its own index
  [[nodiscard]] bool holds(std::size_t list, std::size_t own) const;
};

/// Something to look at or to try, answered yes or no.
struct RoutineItem {
  std::string name;
  std::size_t list = 0;  ///< index into Routine::lists
  bool after = false;    ///< once the routes are through; else before them
  std::string words;     ///< what to do
  std::string asks;      ///< the question, where "yes" is as it should be
  std::string if_not;    ///< what follows from "no"
  double minutes = 0;
  std::vector<std::size_t> cautions;
  std::string source;
};

/// Two routes of a pair at once, so that a crossing is heard. "{one}" and "{other}" stand for the
/// routes.
struct PairCheck {
  std::string words;    ///< what is played
  std::string expects;  ///< what is heard when all is well
};

/// Every frequency once, at a level that is just audible.
struct Sweep {
  std::size_t list = 0;
  std::string words;
  std::vector<double> frequencies_hz;  ///< ascending
  double minutes = 0;                  ///< for one route
  std::string source;
};

/// The listener's own thresholds against a baseline.
struct Thresholds {
  std::size_t list = 0;
  std::string words;
  std::vector<double> frequencies_hz;  ///< ascending
  double minutes = 0;                  ///< for one route
  std::string source;
};

/// How routes of one signal are checked.
struct RoutineSignal {
  SignalId signal;
  std::size_t list = 0;
  double minutes = 0;    ///< of listening: to a route, or to both of a pair at once
  bool stressed = true;  ///< everything on the route that bears a stress is stressed
  std::optional<PairCheck> pair;
  std::optional<Sweep> sweep;
  std::optional<Thresholds> thresholds;
  std::string source;
};

/// A frequency with a level or a limit in dB.
struct AtFrequency {
  double hz = 0;
  double db = 0;
};

/// What a meter must read on one coupler.
struct ReferenceLevels {
  std::string name;
  SignalId signal;
  std::string coupler;
  std::string standard;
  int year = 0;
  double dial_db = 0;                  ///< where the dial stands
  std::string unit;                    ///< of the reading
  std::vector<AtFrequency> reference;  ///< reading at dial 0, ascending by frequency
  std::vector<AtFrequency> within;     ///< limits, each up to its frequency, ascending
  std::string source;
};

/// From which change of an own threshold on a route counts as failed.
struct TripLevel {
  std::vector<double> choices_db;
  double usual_db = 0;  ///< one of the choices
  double step_db = 0;   ///< of the dial with which thresholds are taken
  std::string because;
  std::string source;
};

/// The routine check of every route.
struct Routine {
  std::vector<RoutineList> lists;  ///< the first is the usual one
  std::vector<RoutineItem> items;
  std::vector<RoutineSignal> signals;
  std::vector<ReferenceLevels> levels;
  std::optional<TripLevel> trip;       ///< where any signal has thresholds
  double stress_minutes = 0;           ///< one stress of one element, in passing
  std::vector<std::string> if_failed;  ///< what a failed route needs before it is used again
  std::string source;
};

struct Rules {
  std::string trade;
  std::string about;
  IdVector<SenseId, Sense> senses;
  std::vector<Caution> cautions;
  std::vector<std::string> connectors;
  IdVector<StressId, Stress> stresses;
  IdVector<RemedyId, Remedy> remedies;
  IdVector<ClassId, ElementClass> classes;
  IdVector<ModeId, Mode> modes;
  IdVector<PartKindId, PartKind> part_kinds;
  IdVector<SignalId, Signal> signals;
  std::vector<SpareState> spare_states;
  Unlisted unlisted;
  std::optional<Crossing> crossing;
  Prices prices;
  Handling handling;
  std::optional<SenseId> meter;      ///< the sense used for continuity, if the trade has one
  std::optional<Use> use;            ///< absent: the trade says nothing of it
  std::vector<std::size_t> always;   ///< cautions shown at the start of every case
  std::optional<Routine> routine;    ///< absent: the trade has no routine check
  std::optional<Stores> stores;      ///< absent: the trade says nothing of spares to hold
  std::optional<Outlines> outlines;  ///< absent: nobody is asked what an installation is like
};

}  // namespace whichlink::faults
