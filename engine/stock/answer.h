#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "stock/needs.h"
#include "stock/stores_file.h"
#include "upkeep/budget.h"

namespace whichlink::stock {

/// Why so many are held.
enum class Why {
  costs_least,  ///< holding against sessions lost
  service,      ///< a wanted chance not to run out
  shelf_life,   ///< more would not be used while it keeps
  never_asked   ///< nothing takes one
};

/// What holding so many leads to, in the long run, a year.
struct Outlook {
  double chance_out = 0;    ///< that more are asked for, while one is on its way, than are held
  double days_without = 0;  ///< calendar days times parts lacking
  double sessions_lost = 0;
  double days_lost = 0;  ///< the same in whole days of sessions
};

/// One part or supply.
struct Line {
  std::string name;
  bool is_supply = false;
  double price = 0;  ///< of one, in the cupboard's money
  double lead_days = 0;
  double ready_days = 0;
  std::string ready_after;  ///< what those days are for, in the rules' words
  double shelf_days = 0;    ///< 0: keeps for good
  std::size_t batch = 1;
  std::optional<double> service;  ///< as wanted for this one
  double per_year = 0;            ///< expected to be asked for
  double low_per_year = 0;        ///< 5 % and 95 % points of a year's count
  double high_per_year = 0;
  double needless_per_year = 0;
  double sessions_lost_per_day = 0;  ///< while one is lacking
  std::size_t hold = 0;
  std::size_t on_hand = 0;
  std::size_t on_order = 0;
  std::size_t order = 0;           ///< now
  Outlook held, none;              ///< with `hold`, and with nothing in stock
  double sessions_next_saves = 0;  ///< a year, by one more than `hold`
  double ready_days_per_year = 0;  ///< spent until parts that were put in may be used
  Why why = Why::never_asked;
  std::vector<std::string> not_counted;  ///< spares of unknown state, and parts that are gone
};

/// The best list for a sum of money, on top of what is there.
struct Bought {
  double budget = 0;
  upkeep::List list;          ///< `held`: how many to buy, a number a part
  bool is_exact = false;      ///< no list for the money loses less
  double least_possible = 0;  ///< days lost a year, below which no list for the money gets
};

/// Money against days lost a year.
struct Curve {
  std::vector<std::string> parts;  ///< by choice
  std::vector<upkeep::Step> steps;
  double lost_at_first = 0;  ///< with what is there
};

/// One cupboard for all against one in each room.
struct Pooling {
  std::size_t rooms = 0;
  std::size_t shared_parts = 0, local_parts = 0;
  double shared_money = 0, local_money = 0;
  double shared_days_lost = 0, local_days_lost = 0;  ///< a year, all rooms
  double fetch_days_lost = 0;                        ///< of the shared ones, by fetching
};

struct Answer {
  std::vector<Line> parts;      ///< first what saves most for its money
  std::vector<Line> supplies;   ///< in the order of the rules
  double sessions_per_day = 0;  ///< of all rooms
  double days_per_year = 0;
  std::optional<Curve> curve;  ///< absent where sessions lost have no number
  std::optional<Bought> bought;
  std::optional<Pooling> pooling;  ///< for several rooms
};

struct Question {
  std::vector<Room> rooms;
  Rates rates;
  StoresFile file;
  std::optional<double> service;  ///< for all parts that say nothing else
  std::optional<double> budget;
};

/// Which parts to hold. All installations must be of the same trade, whose rules have `stores`.
/// Problems: the file names something that the rules do not know.
[[nodiscard]] Result<Answer> answer_to(const Question& question);

}  // namespace whichlink::stock
