#pragma once

#include <cstddef>
#include <numeric>
#include <vector>

namespace whichlink::load {

/// Which of the numbers 0 to count - 1 are joined, directly or by way of others (union-find).
class Joined {
 public:
  explicit Joined(std::size_t count) : above_(count) {
    std::iota(above_.begin(), above_.end(), std::size_t{0});
  }
  /// @return false where the two were joined already: the new joint closes a ring
  bool join(std::size_t a, std::size_t b) {
    const std::size_t top_a = top(a);
    const std::size_t top_b = top(b);
    above_[top_a] = top_b;
    return top_a != top_b;
  }
  [[nodiscard]] bool are_joined(std::size_t a, std::size_t b) { return top(a) == top(b); }

 private:
  std::size_t top(std::size_t of) {
    while (above_[of] != of) {
      above_[of] = above_[above_[of]];
      of = above_[of];
    }
    return of;
  }
  std::vector<std::size_t> above_;
};

}  // namespace whichlink::load
