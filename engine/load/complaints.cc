#include "load/complaints.h"

#include <algorithm>

#include "base/utf8.h"

namespace whichlink::load {

void Complaints::add(Here at, std::string what, std::string expected, std::string hint) {
  ++count_;
  if (full()) return;
  problems_.push_back({place(at), std::move(what), std::move(expected), std::move(hint)});
}

void Complaints::add(Problems problems) {
  for (Problem& problem : problems) {
    ++count_;
    if (!full()) problems_.push_back(std::move(problem));
  }
}

Problems Complaints::sorted() const {
  Problems all = problems_;
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

std::string in_quotes(const std::string& text) {
  constexpr std::size_t kShown = 60;
  std::size_t offset = 0;
  for (std::size_t count = 0; offset < text.size() && count < kShown; ++count) {
    if (!next_code_point(text, offset)) ++offset;
  }
  return '"' + text.substr(0, offset) + (offset < text.size() ? "...\"" : "\"");
}

}  // namespace whichlink::load
