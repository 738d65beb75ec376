#include <fmt/format.h>

#include <algorithm>

#include "render/csv.h"
#include "render/stock_pages.h"

namespace whichlink::render {
std::string times_a_year(double per_year) {
  return per_year < 9.95 ? fmt::format("{:.1f}", per_year) : fmt::format("{:.0f}", per_year);
}

std::string money_text(double money, const std::string& unit) {
  return fmt::format(
      "{} {}", money < 10 ? fmt::format("{:.2g}", money) : fmt::format("{:.0f}", money), unit);
}

namespace {

constexpr std::size_t kPartColumns = 26;

std::string sessions_text(double sessions) {
  return sessions < .05 ? "under 0.1" : fmt::format("{:.1f}", sessions);
}

std::string why_words(const stock::Line& line) {
  const double saved = line.none.sessions_lost - line.held.sessions_lost;
  switch (line.why) {
    case stock::Why::never_asked:
      return "No case here ends in one.";
    case stock::Why::service:
      return fmt::format("Held for a chance of {:.4g} % not to run out while more is on its way.",
                         *line.service * 100);
    case stock::Why::shelf_life:
      return fmt::format("No more than are used while they keep ({:g} days).", line.shelf_days);
    case stock::Why::costs_least:
      break;
  }
  const std::string lack =
      fmt::format("Without one {:.1f} sessions a day are lost", line.sessions_lost_per_day);
  if (line.hold == 0) {
    return fmt::format(
        "{}, but that comes so seldom ({} sessions a year) that one on the shelf costs more.", lack,
        sessions_text(line.none.sessions_lost));
  }
  return fmt::format("{}; holding {} saves {} sessions a year, one more would save {}.", lack,
                     line.hold, sessions_text(saved), sessions_text(line.sessions_next_saves));
}

std::string notes_of(const stock::Line& line) {
  std::string notes;
  if (line.needless_per_year > .1 * line.per_year) {
    notes += fmt::format(" {:.0f} in 100 go in for a part that was sound.",
                         100 * line.needless_per_year / line.per_year);
  }
  if (line.ready_days > 0) {
    notes += fmt::format(" A new one may not be used at once ({}): {:g} days, spare or not.",
                         line.ready_after, line.ready_days);
  }
  if (line.batch > 1) notes += fmt::format(" It comes in {} at least.", line.batch);
  for (const std::string& one : line.not_counted) notes += " Not counted: " + one + ".";
  return notes;
}

}  // namespace

std::string stock_reasons(const stock::Line& line) {
  return why_words(line) + notes_of(line);
}

std::string stock_basis(const StockTitle& title, const stock::Answer& answer) {
  std::string words = fmt::format("{} rates; {} cases played to see what isolation ends in",
                                  title.is_learned ? "Learned" : "Judged", title.cases);
  if (title.rooms > 1) words += fmt::format("; one cupboard for {} rooms", title.rooms);
  if (answer.sessions_per_day > 0) {
    words += fmt::format("; {:g} sessions a day{}", answer.sessions_per_day,
                         title.rooms > 1 ? " in all" : "");
  }
  return words + fmt::format(". Prices are in {}.",
                             title.money == "min" ? "minutes of staff" : title.money);
}

namespace {

std::string table_head(const Style& style) {
  const std::string blank(kPartColumns + 2, ' ');
  return dim(blank + " asked for comes in         have    on order   runs\n" + blank +
                 "    a year     days  hold hand order   now    out",
             style) +
         "\n";
}

std::string row(const stock::Line& line, const Style& style) {
  std::string out =
      bold("  " + padded(cut(line.name, kPartColumns, style), kPartColumns), style) +
      fmt::format("{:>10}{:>9.0f}{:>6}{:>5}{:>6}{:>6}{:>7}\n", times_a_year(line.per_year),
                  line.lead_days, line.hold, line.on_hand, line.on_order, line.order,
                  line.per_year > 0 ? percent(line.held.chance_out) : "-");
  out += wrapped(stock_reasons(line), "    ", style.width);
  return out;
}

std::string bought_page(const StockTitle& title, const stock::Answer& answer, const Style& style) {
  if (!answer.bought) return "";
  const stock::Bought& bought = *answer.bought;
  std::string out =
      "\n" +
      heading("For " + money_text(bought.budget, title.money) + ", on top of what is there", style);
  bool any = false;
  for (std::size_t index = 0; index < bought.list.held.size(); ++index) {
    if (bought.list.held[index] == 0) continue;
    any = true;
    out += fmt::format("  {} x {}\n", bought.list.held[index], answer.curve->parts[index]);
  }
  if (!any) out += "  nothing that saves a day\n";
  out += wrapped(fmt::format("That costs {} and leaves {:.2f} days lost a year; with what is there "
                             "it is {:.2f}.",
                             money_text(bought.list.money, title.money), bought.list.lost,
                             answer.curve->lost_at_first),
                 "", style.width);
  out += wrapped(
      bought.is_exact
          ? "No list for that money leaves less."
          : fmt::format("Chosen part by part, what saves most for its money first; another list "
                        "may be a little better, but none for that money leaves under {:.2f}.",
                        bought.least_possible),
      "", style.width);
  return out;
}

std::string pooling_page(const StockTitle& title, const stock::Answer& answer, const Style& style) {
  if (!answer.pooling) return "";
  const stock::Pooling& one = *answer.pooling;
  std::string out = "\n" + heading("One cupboard, or one in each room", style);
  out += dim("                            parts         money   days lost a year", style) + "\n";
  const auto line = [&](const char* name, std::size_t parts, double money, double days) {
    return "  " + padded(name, 20) +
           fmt::format("{:>11}{:>14}{:>19.2f}\n", parts, money_text(money, title.money), days);
  };
  out += line("one for all", one.shared_parts, one.shared_money,
              one.shared_days_lost + one.fetch_days_lost);
  out += line("one in each room", one.local_parts, one.local_money, one.local_days_lost);
  const double saved = one.local_money - one.shared_money;
  out += wrapped(
      fmt::format(
          "Sharing saves {}{}", money_text(std::max(0.0, saved), title.money),
          one.fetch_days_lost > 0
              ? fmt::format(", and loses {:.2f} days a year by fetching.", one.fetch_days_lost)
              : std::string(". What it takes to fetch a part is not in that: \"fetch days\" "
                            "in a stores file.")),
      "", style.width);
  return out;
}

}  // namespace

std::string stock_page(const StockTitle& title, const stock::Answer& answer, const Style& style) {
  std::string out = heading("Parts to hold: " + title.name, style);
  out += wrapped(stock_basis(title, answer), "", style.width) + "\n";
  out += table_head(style);
  for (const stock::Line& line : answer.parts) out += row(line, style);
  std::string used_up;
  for (const stock::Line& line : answer.supplies) {
    if (line.per_year > 0) used_up += row(line, style);
  }
  if (!used_up.empty()) out += "\n" + heading("Used up", style) + table_head(style) + used_up;
  out += bought_page(title, answer, style);
  out += pooling_page(title, answer, style);
  double ready = 0;
  double lost = 0;
  for (const stock::Line& line : answer.parts) {
    ready += line.ready_days_per_year;
    lost += line.held.days_lost;
  }
  out += "\n";
  if (answer.sessions_per_day > 0) {
    out += wrapped(
        fmt::format("Held like that, {:.2f} days a year are lost for want of a part.", lost), "",
        style.width);
  }
  if (ready > 0) {
    out += wrapped(
        fmt::format(
            "Waiting until new parts may be used takes {:.1f} days a year besides; no spare helps.",
            ready),
        "", style.width);
  }
  out += wrapped(
      "First comes what saves most for its money. \"Runs out\": the chance that more are asked for "
      "than are held, while more is on its way. A borrowed part, or one of unknown state, is no "
      "spare. Local rules and the makers' instructions come first.",
      "", style.width);
  return out;
}

namespace {

Json outlook_json(const stock::Outlook& one) {
  return {{"chance_out", one.chance_out},
          {"days_without_per_year", one.days_without},
          {"sessions_lost_per_year", one.sessions_lost},
          {"days_lost_per_year", one.days_lost}};
}

Json line_json(const stock::Line& line) {
  Json json = {{"name", line.name},
               {"price", line.price},
               {"lead_days", line.lead_days},
               {"ready_days", line.ready_days},
               {"shelf_days", line.shelf_days},
               {"order_at_least", line.batch},
               {"asked_for_per_year", line.per_year},
               {"asked_for_in_a_year", {line.low_per_year, line.high_per_year}},
               {"needless_per_year", line.needless_per_year},
               {"sessions_lost_per_day_without", line.sessions_lost_per_day},
               {"hold", line.hold},
               {"on_hand", line.on_hand},
               {"on_order", line.on_order},
               {"order_now", line.order},
               {"held", outlook_json(line.held)},
               {"none", outlook_json(line.none)},
               {"why", why_words(line)},
               {"not_counted", line.not_counted}};
  json["service"] = line.service ? Json(*line.service) : Json();
  return json;
}

}  // namespace

Json stock_json(const StockTitle& title, const stock::Answer& answer) {
  Json json = {{"cupboard", title.name},
               {"money", title.money},
               {"rates", title.is_learned ? "learned" : "judged"},
               {"cases_played", title.cases},
               {"rooms", title.rooms},
               {"sessions_per_day", answer.sessions_per_day},
               {"days_of_use_per_year", answer.days_per_year}};
  json["parts"] = Json::array();
  for (const stock::Line& line : answer.parts) json["parts"].push_back(line_json(line));
  json["supplies"] = Json::array();
  for (const stock::Line& line : answer.supplies) json["supplies"].push_back(line_json(line));
  if (answer.curve) {
    json["days_lost_with_what_is_there"] = answer.curve->lost_at_first;
    json["curve"] = Json::array();
    for (const upkeep::Step& step : answer.curve->steps) {
      json["curve"].push_back({{"part", answer.curve->parts[step.choice]},
                               {"held", step.held},
                               {"money", step.money},
                               {"days_lost_per_year", step.lost}});
    }
  }
  if (answer.bought) {
    Json list = Json::array();
    for (std::size_t index = 0; index < answer.bought->list.held.size(); ++index) {
      if (answer.bought->list.held[index] == 0) continue;
      list.push_back(
          {{"part", answer.curve->parts[index]}, {"count", answer.bought->list.held[index]}});
    }
    json["bought"] = {
        {"budget", answer.bought->budget},    {"list", list},
        {"money", answer.bought->list.money}, {"days_lost_per_year", answer.bought->list.lost},
        {"exact", answer.bought->is_exact},   {"least_possible", answer.bought->least_possible}};
  }
  if (answer.pooling) {
    const stock::Pooling& one = *answer.pooling;
    json["pooling"] = {{"shared",
                        {{"parts", one.shared_parts},
                         {"money", one.shared_money},
                         {"days_lost_per_year", one.shared_days_lost},
                         {"days_lost_by_fetching", one.fetch_days_lost}}},
                       {"local",
                        {{"parts", one.local_parts},
                         {"money", one.local_money},
                         {"days_lost_per_year", one.local_days_lost}}}};
  }
  return json;
}

std::string stock_csv(const StockTitle& title, const stock::Curve& curve) {
  std::string out = csv_line({"money (" + title.money + ")", "days lost a year", "part", "of it"});
  out += csv_line({"0", fmt::format("{:.9g}", curve.lost_at_first), "", ""});
  for (const upkeep::Step& step : curve.steps) {
    out += csv_line({fmt::format("{:.9g}", step.money), fmt::format("{:.9g}", step.lost),
                     curve.parts[step.choice], std::to_string(step.held)});
  }
  return out;
}

}  // namespace whichlink::render
