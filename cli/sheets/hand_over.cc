#include <memory>

#include "case_source.h"
#include "sheet.h"
#include "sheets/hand_over_sheet.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

std::string hand_over_page(const CaseSource& source) {
  if (source.which.empty())
    refuse("--case", "is missing", "a case's file, or its number on record");
  const FoundCase found = found_case(source);
  return sheets::hand_over_sheet(*found.one,
                                 {found.number, found.opened, day_of_page(source.record)});
}

}  // namespace

Sheet hand_over_sheet(CLI::App& sheets) {
  const auto source = std::make_shared<CaseSource>();
  CLI::App* app = sheets.add_subcommand(
      "hand-over", "One case for the service engineer: done, ruled out, suspected, left open");
  add_case_source(*app, *source);
  return {app, [source] { return hand_over_page(*source); }};
}

}  // namespace whichlink::cli
