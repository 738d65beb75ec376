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

[[nodiscard]] std::string stock_page(const StockTitle& title, const stock::Answer& answer,
                                     const Style& style);
[[nodiscard]] Json stock_json(const StockTitle& title, const stock::Answer& answer);
/// Money against days lost, one line a step.
[[nodiscard]] std::string stock_csv(const StockTitle& title, const stock::Curve& curve);
/// The same as a plot.
[[nodiscard]] std::string stock_plot(const StockTitle& title, const stock::Answer& answer);

}  // namespace whichlink::render
