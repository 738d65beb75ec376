#include "drill/menu.h"

#include <algorithm>
#include <charconv>
#include <optional>
#include <sstream>

namespace whichlink::drill {
namespace {

/// The number of the kind that each action belongs to, from 0.
struct KindOf {
  std::size_t operator()(const moves::Listen& /*unused*/) const { return 0; }
  std::size_t operator()(const moves::ApplyStress& /*unused*/) const { return 1; }
  std::size_t operator()(const moves::StressRoute& /*unused*/) const { return 1; }
  std::size_t operator()(const moves::TryRoute& /*unused*/) const { return 2; }
  std::size_t operator()(const moves::ConnectDirectly& /*unused*/) const { return 3; }
  std::size_t operator()(const moves::CrossPlugs& /*unused*/) const { return 4; }
  std::size_t operator()(const moves::Substitute& /*unused*/) const { return 5; }
  std::size_t operator()(const moves::Treat& /*unused*/) const { return 6; }
  std::size_t operator()(const moves::Measure& /*unused*/) const { return 7; }
  std::size_t operator()(const moves::TraceLabels& /*unused*/) const { return 8; }
  std::size_t operator()(const moves::PutBack& /*unused*/) const { return 9; }
  std::size_t operator()(const moves::TakeOut& /*unused*/) const { return 9; }
};

std::optional<std::size_t> number_in(const std::string& text) {
  std::size_t value = 0;
  const char* end = text.data() + text.size();
  const auto [rest, error] = std::from_chars(text.data(), end, value);
  if (error != std::errc() || rest != end || value == 0) return std::nullopt;
  return value - 1;
}

std::vector<std::string> words_in(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> words;
  for (std::string word; stream >> word;) words.push_back(word);
  return words;
}

}  // namespace

std::vector<MenuEntry> menu_of(const std::vector<moves::Move>& possible) {
  std::vector<MenuEntry> menu = {{"listen again", {}},
                                 {"stress", {}},
                                 {"try another route", {}},
                                 {"connect directly", {}},
                                 {"cross two plugs", {}},
                                 {"put another part in", {}},
                                 {"treat", {}},
                                 {"measure a part", {}},
                                 {"follow the labels", {}},
                                 {"put back", {}}};
  for (const moves::Move& move : possible) {
    menu[std::visit(KindOf{}, move.action)].moves.push_back(move);
  }
  return menu;
}

Pick pick(const moves::Setting& setting, const std::vector<MenuEntry>& menu,
          const std::string& typed) {
  Pick found;
  const std::size_t dot = typed.find('.');
  const auto kind = number_in(typed.substr(0, dot));
  if (kind && *kind < menu.size()) {
    const MenuEntry& entry = menu[*kind];
    if (dot == std::string::npos) {
      if (entry.moves.size() == 1) {
        found.fits.push_back(&entry.moves.front());
      } else {
        found.kind = &entry;
      }
      return found;
    }
    const auto which = number_in(typed.substr(dot + 1));
    if (which && *which < entry.moves.size()) found.fits.push_back(&entry.moves[*which]);
    return found;
  }
  const std::vector<std::string> words = words_in(typed);
  for (const MenuEntry& entry : menu) {
    if (entry.words == typed && entry.moves.size() != 1) {
      found.kind = &entry;
      return found;
    }
    for (const moves::Move& move : entry.moves) {
      const std::string shown = moves::short_words(setting, move);
      if (move.name == typed || shown == typed) {
        found.fits = {&move};
        return found;
      }
      const std::string both = move.name + " " + shown + " " + entry.words;
      const bool fits =
          !words.empty() && std::all_of(words.begin(), words.end(), [&](const std::string& word) {
            return both.find(word) != std::string::npos;
          });
      if (fits) found.fits.push_back(&move);
    }
  }
  return found;
}

}  // namespace whichlink::drill
