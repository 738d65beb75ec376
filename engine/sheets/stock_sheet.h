#pragma once

#include <string>

#include "render/stock_pages.h"

namespace whichlink::sheets {

/// Which parts to hold, as a list for the cupboard's door: what to hold, what is there, what to
/// order, with room for a count.
[[nodiscard]] std::string stock_sheet(const render::StockTitle& title, const stock::Answer& answer,
                                      const std::string& date);

}  // namespace whichlink::sheets
