#pragma once

#include <string>

#include "render/json.h"
#include "render/text.h"
#include "stock/answer.h"

/// Which parts to hold.
namespace whichlink::render {

/// What an answer rests on.
struct StockTitle {
  std::string name;         ///< of the cupboard, or of the installation
  std::string money;        ///< what prices are in
  bool is_learned = false;  ///< rates come from a record
  std::size_t cases = 0;    ///< played
  std::size_t rooms = 1;
};

/// What the list rests on: rates, cases, rooms.
[[nodiscard]] std::string stock_basis(const StockTitle& title, const stock::Answer& answer);
/// Why so many of a part are held, and what else is to be known of it.
[[nodiscard]] std::string stock_reasons(const stock::Line& line);
/// "120 EUR"
[[nodiscard]] std::string money_text(double money, const std::string& unit);
/// "2.1", a number of a year.
[[nodiscard]] std::string times_a_year(double per_year);
[[nodiscard]] std::string stock_page(const StockTitle& title, const stock::Answer& answer,
                                     const Style& style);
[[nodiscard]] Json stock_json(const StockTitle& title, const stock::Answer& answer);
/// Money against days lost, one line a step.
[[nodiscard]] std::string stock_csv(const StockTitle& title, const stock::Curve& curve);
/// The same as a plot.
[[nodiscard]] std::string stock_plot(const StockTitle& title, const stock::Answer& answer);

}  // namespace whichlink::render
