#include <memory>

#include "shell.h"
#include "stock_question.h"

namespace whichlink::cli {
namespace {

struct StockCommandOptions {
  StockOptions asked;
  std::string plot, curve;
  bool json = false;
};

int run_stock(const StockCommandOptions& options) {
  const auto [title, answer] =
      stock_found(options.asked, !options.plot.empty() || !options.curve.empty());
  if (!options.plot.empty()) keep_file(options.plot, render::stock_plot(title, answer));
  if (!options.curve.empty()) keep_file(options.curve, render::stock_csv(title, *answer.curve));
  show(options.json ? render::to_text(render::stock_json(title, answer))
                    : render::stock_page(title, answer, style_of_output()));
  return kDone;
}

}  // namespace

Command stock_command(CLI::App& program) {
  const auto options = std::make_shared<StockCommandOptions>();
  CLI::App* app = program.add_subcommand(
      "stock", "Which spares to hold and what to order, for one room or many with one cupboard");
  add_stock_options(*app, options->asked);
  app->add_option("--plot", options->plot, "Write money against days lost to this SVG file");
  app->add_option("--curve", options->curve, "Write the same to this CSV file");
  app->add_flag("--json", options->json, "Write JSON");
  return {app, [options] { return run_stock(*options); }};
}

}  // namespace whichlink::cli
