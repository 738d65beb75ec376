#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace whichlink::load {

/// A text from tests/load/good/.
inline std::string good(const std::string& name) {
  std::ifstream stream(std::string(WHICHLINK_SOURCE_DIR) + "/tests/load/good/" + name);
  return {std::istreambuf_iterator<char>(stream), {}};
}

/// The text with its only `from` replaced; empty where it is not there just once.
inline std::string edited(std::string text, std::string_view from, std::string_view to) {
  const std::size_t at = text.find(from);
  if (at == std::string::npos || text.find(from, at + 1) != std::string::npos) return "";
  return text.replace(at, from.size(), to);
}

/// Every complaint as its line.
template <class Value>
std::vector<std::string> lines(const Result<Value>& result) {
  std::vector<std::string> all;
  if (result) return all;
  for (const Problem& problem : result.error()) all.push_back(to_line(problem));
  return all;
}

/// One slip in a good text, and every complaint that it must bring.
struct Slip {
  const char* claim;
  std::string_view from;
  std::string_view to;
  std::vector<std::string> lines;
};

inline std::string claim_of(const ::testing::TestParamInfo<Slip>& slip) {
  return slip.param.claim;
}

}  // namespace whichlink::load
