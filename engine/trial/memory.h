#pragma once

#include <cstddef>
#include <map>
#include <memory>
#include <mutex>

#include "trial/policy.h"

namespace whichlink::trial {

/// What a fixed policy chose after each sequence of reports, for all threads that play its cases: a
/// tree, a place for each sequence. Holds kMostRemembered places; what comes after is not
/// remembered.
class Memory {
 public:
  class Place {
   public:
    Place() = default;

   private:
    friend class Memory;
    std::unique_ptr<const Choice> choice_;
    std::map<std::size_t, std::unique_ptr<Place>> next_;  // by outcome
  };

  /// The beginning of the cases with this complaint; null where it is full.
  [[nodiscard]] Place* first(std::size_t heard);
  /// Null from null, and where it is full.
  [[nodiscard]] Place* next(Place* place, std::size_t outcome);
  /// What was chosen there; null if nothing yet. It stays.
  [[nodiscard]] const Choice* choice(const Place* place);
  /// Notes a choice, unless another thread was quicker: it was the same.
  void note(Place* place, const Choice& choice);

 private:
  Place* at(std::map<std::size_t, std::unique_ptr<Place>>& places, std::size_t key);

  std::mutex mutex_;
  std::map<std::size_t, std::unique_ptr<Place>> first_;  // by what was complained of
  std::size_t places_ = 0;
};

/// Some hundred megabytes (judged).
constexpr std::size_t kMostRemembered = 200'000;

}  // namespace whichlink::trial
