#pragma once

#include <algorithm>
#include <cstddef>
#include <future>
#include <thread>
#include <vector>

namespace whichlink {

/// Runs work(worker, workers) for each worker from 0 on, one for each core and eight at most, this
/// thread being one of them, and waits for all. What each does must not depend on how many there
/// are. Where no thread is to be had, its work is done when it is waited for. For rooms that link
/// Threads.
template <class Work>
void on_every_core(const Work& work) {
  constexpr std::size_t kMost = 8;
  constexpr auto kIfPossible = std::launch::async | std::launch::deferred;
  const std::size_t workers =
      std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, kMost);
  std::vector<std::future<void>> others;
  for (std::size_t worker = 1; worker < workers; ++worker) {
    others.push_back(std::async(kIfPossible, [&work, worker, workers] { work(worker, workers); }));
  }
  work(0, workers);
  for (std::future<void>& other : others) other.get();
}

}  // namespace whichlink
