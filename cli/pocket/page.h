#pragma once

#include <string>

#include "moves/installation.h"
#include "pocket/tree.h"

namespace whichlink::cli {

/// What one pocket page is made from.
struct PocketPage {
  std::string model;    ///< as it was asked for; the case's text names it
  std::string contact;  ///< whom to call for service; may be empty
  Json rules;           ///< the trees of both files
  Json installation;
};

/// Whether this program was built with the engine for the page.
[[nodiscard]] bool has_pocket_page();
/// The whole page. Precondition: has_pocket_page().
/// @param installation  read from the same files; its rates may be others than theirs
[[nodiscard]] std::string pocket_page(const PocketPage& about,
                                      const moves::Installation& installation);

}  // namespace whichlink::cli
