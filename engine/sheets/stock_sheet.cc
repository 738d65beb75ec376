#include "sheets/stock_sheet.h"

#include <fmt/format.h>

#include "sheets/html.h"
#include "sheets/names.h"

namespace whichlink::sheets {
namespace {

const std::string kStockStyle =
    R"css(.order{border:.15rem solid #000;padding:.1rem .9rem;margin:1rem 0}
.order ul{list-style:none;padding:0}
.count td{width:5rem}
@media print{.order{break-inside:avoid}}
)css";

Block to_order(const stock::Answer& answer) {
  std::vector<Words> lines;
  for (const auto* list : {&answer.parts, &answer.supplies}) {
    for (const stock::Line& line : *list) {
      if (line.order == 0) continue;
      lines.push_back(tick_box("box to tick once ordered") + fmt::format(" {} x ", line.order) +
                      strong(name(line.name)) +
                      fmt::format(", comes in {:.0f} days", line.lead_days));
    }
  }
  if (lines.empty()) return section(2, "To order now", paragraph("Nothing."), "order");
  return section(2, "To order now", list(lines), "order");
}

Block count_table(const std::string& title, const std::vector<stock::Line>& lines, bool all) {
  Table table{"", {"Part", "hold", "there", "on order", "order", "counted"}, {}, "count"};
  for (const stock::Line& line : lines) {
    if (!all && line.per_year <= 0) continue;
    table.rows.push_back({capital(line.name), fmt::format("{}", line.hold),
                          fmt::format("{}", line.on_hand), fmt::format("{}", line.on_order),
                          line.order > 0 ? strong(fmt::format("{}", line.order)) : Words("0"), ""});
  }
  return table.rows.empty() ? Block() : section(2, title, sheets::table(table));
}

Block reasons(const stock::Answer& answer) {
  std::vector<std::pair<Words, Words>> lines;
  for (const auto* list : {&answer.parts, &answer.supplies}) {
    for (const stock::Line& line : *list) {
      if (list == &answer.supplies && line.per_year <= 0) continue;
      lines.emplace_back(capital(line.name), fmt::format("Asked for {} times a year. ",
                                                         render::times_a_year(line.per_year)) +
                                                 render::stock_reasons(line));
    }
  }
  return section(2, "Why so many", facts(lines));
}

Block bought(const render::StockTitle& title, const stock::Answer& answer) {
  if (!answer.bought) return {};
  const stock::Bought& one = *answer.bought;
  std::vector<Words> lines;
  for (std::size_t index = 0; index < one.list.held.size(); ++index) {
    if (one.list.held[index] == 0) continue;
    lines.emplace_back(fmt::format("{} x {}", one.list.held[index], answer.curve->parts[index]));
  }
  return section(
      2, "For " + render::money_text(one.budget, title.money) + ", on top of what is there",
      (lines.empty() ? paragraph("Nothing that saves a day.") : list(lines)) +
          paragraph(fmt::format("That costs {} and leaves {:.2f} days lost a year; with what is "
                                "there it is {:.2f}.",
                                render::money_text(one.list.money, title.money), one.list.lost,
                                answer.curve->lost_at_first)));
}

}  // namespace

std::string stock_sheet(const render::StockTitle& title, const stock::Answer& answer,
                        const std::string& date) {
  Page around;
  around.title = "Spares to hold";
  around.about = title.name;
  around.date = date;
  around.style = kStockStyle;
  return page(around,
              to_order(answer) + count_table("Parts", answer.parts, true) +
                  count_table("Used up", answer.supplies, false) + blank("Counted by, and when") +
                  bought(title, answer) + reasons(answer) +
                  paragraph(render::stock_basis(title, answer)) +
                  paragraph("A borrowed part, or one of unknown state, is no spare. Local rules "
                            "and the makers' instructions come first."));
}

}  // namespace whichlink::sheets
