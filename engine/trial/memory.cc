#include "trial/memory.h"

namespace whichlink::trial {

Memory::Place* Memory::first(std::size_t heard) {
  const std::scoped_lock lock(mutex_);
  return at(first_, heard);
}

Memory::Place* Memory::next(Place* place, std::size_t outcome) {
  if (place == nullptr) return nullptr;
  const std::scoped_lock lock(mutex_);
  return at(place->next_, outcome);
}

Memory::Place* Memory::at(std::map<std::size_t, std::unique_ptr<Place>>& places, std::size_t key) {
  const auto found = places.find(key);
  if (found != places.end()) return found->second.get();
  if (places_ >= kMostRemembered) return nullptr;
  ++places_;
  return places.emplace(key, std::make_unique<Place>()).first->second.get();
}

const Choice* Memory::choice(const Place* place) {
  if (place == nullptr) return nullptr;
  const std::scoped_lock lock(mutex_);
  return place->choice_.get();
}

void Memory::note(Place* place, const Choice& choice) {
  if (place == nullptr) return;
  const std::scoped_lock lock(mutex_);
  if (!place->choice_) place->choice_ = std::make_unique<const Choice>(choice);
}

}  // namespace whichlink::trial
