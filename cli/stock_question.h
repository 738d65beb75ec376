#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "record_options.h"
#include "render/stock_pages.h"

namespace whichlink::cli {

/// What is asked of a cupboard; shared by `stock` and `sheet stock`.
struct StockOptions {
  std::vector<std::string> models;
  std::string stores;
  std::optional<double> service, budget;
  std::size_t cases = 200;
  std::uint64_t seed = 1;
  std::optional<double> think;
  RecordOptions record;
};

struct StockFound {
  render::StockTitle title;
  stock::Answer answer;
};

void add_stock_options(CLI::App& app, StockOptions& options);
/// Plays the cases, with a bar on a terminal. @param wants_curve  money against days lost is needed
[[nodiscard]] StockFound stock_found(const StockOptions& options, bool wants_curve);

}  // namespace whichlink::cli
