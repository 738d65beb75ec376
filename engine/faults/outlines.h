#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "base/ids.h"

/// The ways signals are usually laid in a trade: what can be asked of somebody who describes a new
/// installation, and what is built from the answers. Plain values, as read from a file of rules.
namespace whichlink::faults {

enum class JointKind { fixed, switched, plugged };

/// A place by what is found there.
struct OutlinePlace {
  std::string key;    ///< what the parts call it
  std::string words;  ///< "the room with the audiometer"
  std::string name;   ///< what an installation calls it, when nobody says otherwise
};

struct OutlinePart {
  std::string name;
  PartKindId kind;
  std::size_t place = 0;                            ///< index into Outlines::places
  std::map<std::string, std::size_t> piece_places;  ///< of pieces that are elsewhere
};

/// One part on a way, with the joint by which it hangs on the part before.
struct OutlineStep {
  JointKind joint = JointKind::fixed;  ///< of the first step: means nothing
  std::size_t part = 0;                ///< index into Outlines::parts
  std::string in;                      ///< "piece", "piece.lane", "lane"; empty for the only one
  std::string out;                     ///< the same; equal to `in` where nothing was said
  /// The step is there only where, for each choice that is named here, one of these ways of it was
  /// chosen: (choice, way), ascending. Empty: always.
  std::vector<std::pair<std::size_t, std::size_t>> only;
};

/// A chain from its source to its end.
struct OutlineRoute {
  std::string name;
  SignalId signal;
  std::string side;  ///< "left", "right" or empty
  std::string pair;  ///< the other side's route in the same outline, or empty
  std::vector<OutlineStep> steps;
};

/// One of several ways in which the same equipment is connected.
struct OutlineWay {
  std::string name;  ///< unique within its outline
  std::string words;
  bool needs_apart = false;  ///< makes sense between two places only
};

struct OutlineChoice {
  std::string name;
  std::string asks;
  std::string because;
  std::vector<OutlineWay> ways;
  std::size_t usual_together = 0;
  std::size_t usual_apart = 0;
};

/// Equipment that a person sees as one thing, with its routes.
struct Outline {
  std::string name;
  std::string words;
  std::string look;    ///< what to check by eye
  bool usual = false;  ///< taken to be there when nobody says otherwise
  std::vector<OutlineChoice> choices;
  std::vector<OutlineRoute> routes;
};

struct Outlines {
  std::string called;  ///< the name of an installation, when nobody says otherwise
  int people = 1;      ///< 1 or 2, the same
  std::vector<OutlinePlace> places;
  std::string together_words;
  std::string together_name;
  /// Empty where all of a trade is in one place; then nobody is asked.
  std::string apart_words;
  bool usual_apart = false;
  double walking_minutes = 0;  ///< between any two places, one way
  std::vector<OutlinePart> parts;
  std::vector<Outline> kinds;
  std::string source;
  std::string walking_source;
};

/// Whether a step is there. @param ways  the chosen way of each choice of the outline
[[nodiscard]] bool is_there(const OutlineStep& step, const std::vector<std::size_t>& ways);

}  // namespace whichlink::faults
