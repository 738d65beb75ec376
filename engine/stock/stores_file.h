#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"

namespace whichlink::stock {

/// Rooms of one installation that take from the cupboard.
struct Site {
  std::string installation;  ///< a file, or the name of one that comes with whichlink
  std::size_t rooms = 1;
  Place place;
};

/// What is said of one part or supply; what is absent is as the rules have it.
struct SaidTerms {
  std::string name;             ///< of a kind of part, or of a supply
  std::optional<double> price;  ///< of one, in the file's money
  std::optional<double> lead_days, ready_days, shelf_days;
  std::optional<double> service;       ///< wanted chance not to run out
  std::optional<std::size_t> on_hand;  ///< instead of the spares that the installations list
  std::size_t on_order = 0;
  std::optional<std::size_t> batch;  ///< ordered in so many at least
  Place place;
};

/// A cupboard: who shares it, and what is known of its parts. Formats: docs/formats.md.
struct StoresFile {
  std::string name;
  std::string money = "min";    ///< what prices are in
  double money_per_minute = 1;  ///< what a minute of staff costs in it; > 0
  double fetch_days = 0;        ///< from the cupboard to a room
  std::vector<Site> sites;
  std::vector<SaidTerms> terms;
};

}  // namespace whichlink::stock
