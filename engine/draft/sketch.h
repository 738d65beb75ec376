#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "moves/installation.h"

/// An installation in its own words: from what a person says of it to a file that can be read, and
/// back. Plain values in, text out.
namespace whichlink::draft {

/// What a file of an installation says, by names: nothing resolved, nothing checked.
struct Sketch {
  struct Part {
    std::string name;
    std::string kind;
    std::string place;
    std::map<std::string, std::string> piece_places;  ///< of pieces that are elsewhere
    friend bool operator==(const Part&, const Part&) = default;
  };
  struct Route {
    std::string name, from, to, selects, signal, side, pair;  ///< empty where there is none
    friend bool operator==(const Route&, const Route&) = default;
  };
  struct Spare {
    std::string name, kind, state, place;
    friend bool operator==(const Spare&, const Spare&) = default;
  };
  struct Walk {
    std::string from, to;
    double minutes = 0;
  };
  using Joint = std::pair<std::string, std::string>;

  std::string name;
  std::string about;
  int people = 1;
  std::string start;
  std::vector<std::string> places;
  std::vector<Walk> walking;
  std::vector<Part> parts;
  std::vector<Joint> fixed;
  std::vector<Joint> switched;
  std::vector<Joint> plugged;  ///< plug first
  std::vector<Route> routes;
  std::vector<Spare> spares;
  double miss_minutes = 0;
  double service_minutes = 0;
  bool has_meter = true;
  double days_since_pass = 0;
  std::optional<double> sessions_per_day;  ///< absent: the rules of the trade know no use
  std::optional<double> days_per_year;
  std::optional<double> spoilt_minutes;
};

/// The parts, joints, routes and numbers of an installation, by name.
[[nodiscard]] Sketch sketch_of(const moves::Installation& installation);

/// Whether a joint is among these, either way round.
[[nodiscard]] bool holds(const std::vector<Sketch::Joint>& joints, const Sketch::Joint& joint);

/// The parts, joints and routes of `whole` that `without` has not, name by name; the rest is as in
/// `whole`, without spares.
[[nodiscard]] Sketch left_over(const Sketch& whole, const Sketch& without);

}  // namespace whichlink::draft
