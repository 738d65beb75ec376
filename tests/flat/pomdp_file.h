#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

/// A reader of the POMDP file format of its own, made after the format's description and not after
/// our writer: https://www.pomdp.org/code/pomdp-file-spec.html. It knows names, wildcards, single
/// numbers and comments; anything else is a complaint.
namespace whichlink::testing {

using SparseRow = std::map<std::size_t, double>;

struct PomdpFile {
  std::vector<std::string> complaints;
  double discount = 0;
  std::string values;
  std::vector<std::string> states, actions, observations;
  std::vector<double> start;
  std::vector<std::vector<SparseRow>> next;     ///< [action][state]
  std::vector<std::vector<SparseRow>> reports;  ///< [action][state after]
  std::vector<std::vector<double>> reward;      ///< [action][state]
  std::map<std::string, std::string> meaning;   ///< from comments "name = words"

  [[nodiscard]] std::size_t action(const std::string& words) const;  ///< by its meaning or name
};

[[nodiscard]] PomdpFile read_pomdp(const std::string& text);

}  // namespace whichlink::testing
