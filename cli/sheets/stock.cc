#include <memory>

#include "sheet.h"
#include "sheets/stock_sheet.h"
#include "stock_question.h"

namespace whichlink::cli {

Sheet stock_sheet(CLI::App& sheets) {
  const auto options = std::make_shared<StockOptions>();
  CLI::App* app = sheets.add_subcommand(
      "stock", "Which spares to hold, what is there and what to order, with room for a count");
  add_stock_options(*app, *options);
  return {app, [options] {
            const StockFound found = stock_found(*options, false);
            return sheets::stock_sheet(found.title, found.answer, day_of_page(options->record));
          }};
}

}  // namespace whichlink::cli
