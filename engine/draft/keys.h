#pragma once

#include <string>
#include <vector>

#include "draft/form.h"

/// What answers are kept under, and what they say together. Of use inside this room only.
namespace whichlink::draft {

inline const std::string kName = "name";
inline const std::string kAbout = "about";
inline const std::string kPlaces = "places";
inline const std::string kTogether = "together";
inline const std::string kApart = "apart";
inline const std::string kOnlyPlace = "the place";
inline const std::string kKinds = "kinds";
inline const std::string kSpares = "spares";
inline const std::string kState = "state";
inline const std::string kPlace = "place";
inline const std::string kSpareName = "name";
inline const std::string kMeter = "meter";
inline const std::string kYes = "yes";
inline const std::string kNo = "no";
inline const std::string kPeople = "people";
inline const std::string kSessions = "sessions a day";
inline const std::string kDaysPerYear = "days a year";
inline const std::string kPassed = "days since pass";
inline const std::string kService = "service minutes";

// What nobody is asked: an earlier file says it, and it stays as it is.
inline const std::string kStart = "never asked: start";  ///< a place, by its old name
inline const std::string kMiss = "never asked: miss minutes";
inline const std::string kSpoilt = "never asked: spoilt minutes";
inline const std::string kExtraPlaces = "never asked: more places";  ///< that no outline has
inline const std::string kOldPlaces = "never asked: old places";     ///< by outline place
inline const std::string kKeptKinds = "never asked: kinds of parts that are kept";
inline const std::string kTaken = "never asked: kinds of equipment whose names are in use";
inline const std::string kHasRoutes = "never asked: a route is kept";

[[nodiscard]] bool is_never_asked(const std::string& key);
[[nodiscard]] std::string place_key(const std::string& place);
[[nodiscard]] std::string way_key(const faults::Outline& outline,
                                  const faults::OutlineChoice& choice);
/// @param number  from 1, among the spares of that kind
[[nodiscard]] std::string spare_key(const std::string& kind, std::size_t number,
                                    const std::string& what);
/// @param a, b  indices into all_places
[[nodiscard]] std::string walk_key(const faults::Rules& rules, const Answers& complete,
                                   std::size_t a, std::size_t b);

[[nodiscard]] bool is_apart(const Answers& complete);
[[nodiscard]] bool is_chosen(const faults::Outline& outline, const Answers& complete);
/// The chosen way of each choice; the usual one where nothing was asked.
[[nodiscard]] std::vector<std::size_t> chosen_ways(const faults::Outline& outline,
                                                   const Answers& complete);
/// A name for each of the outlines' places: all the same where all is together.
[[nodiscard]] std::vector<std::string> place_names(const faults::Rules& rules,
                                                   const Answers& complete);
/// Each name once, and those that only an earlier file has.
[[nodiscard]] std::vector<std::string> all_places(const faults::Rules& rules,
                                                  const Answers& complete);
/// What a place of an earlier file is called now.
[[nodiscard]] std::string place_now(const faults::Rules& rules, const Answers& complete,
                                    const std::string& then);
/// The value, or nothing said.
[[nodiscard]] std::string value_at(const Answers& complete, const std::string& key);

}  // namespace whichlink::draft
