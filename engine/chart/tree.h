#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "guide/course.h"

/// The plan of a whole case, as far as it fits on paper: which move, and what to do on each answer.
namespace whichlink::chart {

/// What a page begins from: what may be complained of on a route, told apart as little as the first
/// move needs.
struct Complaint {
  RouteId route;
  std::size_t listener = 0;           ///< index into the listeners of the route's sense
  std::vector<std::size_t> outcomes;  ///< of the route's sense, ascending, without the first
  double share = 0;                   ///< of all complaints of that route
};

/// What is complained of on a route in at least this share of its complaints, likeliest first.
/// Reports that are told apart by their level only, one next to the other, are one complaint where
/// the guide begins alike with each and with all.
[[nodiscard]] std::vector<Complaint> complaints_of(const moves::Setting& setting, RouteId route,
                                                   std::size_t listener, double least_share,
                                                   const plan::Depth& depth);

inline const std::string kCrossed = "crossed plugs";
inline const std::string kNotListed = "a cause not listed";

/// Why a step is made where the guide would still look at something else.
inline const std::string kCloseSoon = "close soon";

/// A part, or what else can be wrong, and the chance that it is bad.
struct Blame {
  std::string what;  ///< the part's name; "crossed plugs"; "a cause not listed"
  double chance = 0;
};

/// Answers that lead to the same next move, and where they lead.
struct Answer {
  std::vector<std::size_t> outcomes;  ///< of the move's sense, ascending
  double chance = 0;                  ///< given that the move is made
  std::size_t node = 0;
};

/// Where a case has come to.
struct Node {
  double chance = 1;   ///< of coming here
  double minutes = 0;  ///< of the moves before
  guide::Stage stage = guide::Stage::under_way;
  std::optional<moves::Move> move;  ///< the guide's; none where the case has ended, or in a remnant
  std::string reason;               ///< as of guide::Advice, or "close soon"
  double saves = 0;             ///< priced minutes that going on saves against calling service here
  std::vector<Answer> answers;  ///< of an opened node: their chances add up to 1
  std::vector<Blame> blame;     ///< likeliest first
  std::shared_ptr<const guide::Course> course;  ///< none in a remnant
};

/// A policy tree, opened where it is worth most. Node 0 is the complaint.
struct Tree {
  Complaint complaint;
  std::vector<Node> nodes;
  std::vector<std::size_t> opened;  ///< in the order in which they were opened
};

struct Growth {
  std::size_t most_opened = 40;
  /// Once nothing wrong is heard on the route, the whole of it is stressed as soon as standing that
  /// leaves no more doubt than this, and the case is closed when it stood it: a page has no room
  /// for the many small looks with which the guide brings a doubt down further. 0: as the guide
  /// does.
  double doubt = 0.02;
  plan::Depth depth;
};

/// Opens a tree best first: next is always the node with the largest chance of coming there times
/// what going on saves, until that many are open or nothing is worth it. Each move is the guide's
/// own, but for closing sooner (reason "close soon"). Answers that lead to the same next move, or
/// the same ending, are one answer, with the belief of "one of these was heard", if the guide says
/// the same then; "nothing wrong" always stands alone, since the guide closes by it. Answers that
/// hardly ever come share a remnant, which is never opened. The setting must outlive the tree.
[[nodiscard]] Tree grow(const moves::Setting& setting, const Complaint& complaint,
                        const Growth& growth);

/// What the guide would do at a node if that was answered: "not sure" or "cannot do".
[[nodiscard]] guide::Advice after(const Node& node, const std::string& word,
                                  const plan::Depth& depth);

}  // namespace whichlink::chart
