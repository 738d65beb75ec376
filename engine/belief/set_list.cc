#include "belief/set_list.h"

#include <algorithm>
#include <numeric>

namespace whichlink::belief {

double SetList::weight(std::size_t set) const {
  const auto cells = weights(set);
  return std::accumulate(cells.begin(), cells.end(), 0.0);
}

double SetList::total() const {
  return sum_of(weights_);
}

bool SetList::is_empty() const {
  return std::all_of(weights_.begin(), weights_.end(), [](double weight) { return weight == 0; });
}

void SetList::divide(double total) {
  for (double& weight : weights_) weight /= total;
}

void SetList::multiply(std::size_t first, std::size_t last, double factor) {
  for (std::size_t cell = weight_begin_[first]; cell < weight_begin_[last]; ++cell) {
    weights_[cell] *= factor;
  }
}

std::size_t SetList::add(std::span<const std::uint32_t> members) {
  members_.insert(members_.end(), members.begin(), members.end());
  member_begin_.push_back(members_.size());
  weights_.resize(weights_.size() + (std::size_t{1} << members.size()), 0.0);
  weight_begin_.push_back(weights_.size());
  return size() - 1;
}

std::size_t SetList::add_with(std::size_t set, std::uint32_t place) {
  for (std::size_t from = member_begin_[set]; from < member_begin_[set + 1]; ++from) {
    members_.push_back(members_[from]);
  }
  members_.push_back(place);
  const std::size_t count = members_.size() - member_begin_.back();
  member_begin_.push_back(members_.size());
  weights_.resize(weights_.size() + (std::size_t{1} << count), 0.0);
  weight_begin_.push_back(weights_.size());
  return size() - 1;
}

bool SetList::is_heavier(std::size_t set, double limit) const {
  double sum = 0;
  for (const double cell : weights(set)) {
    sum += cell;
    if (sum > limit) return true;
  }
  return false;
}

double SetList::remove_up_to(double limit) {
  std::size_t first_light = 0;
  while (first_light < size() && is_heavier(first_light, limit)) ++first_light;
  if (first_light == size()) return 0;
  std::vector<double> heaviness(size());
  std::size_t heaviest = 0;
  for (std::size_t set = 0; set < size(); ++set) {
    heaviness[set] = weight(set);
    if (heaviness[set] > heaviness[heaviest]) heaviest = set;
  }
  double removed = 0;
  std::size_t kept = 0;
  std::size_t member_end = 0;
  std::size_t weight_end = 0;
  for (std::size_t set = 0; set < heaviness.size(); ++set) {
    const std::size_t first_member = member_begin_[set];
    const std::size_t last_member = member_begin_[set + 1];
    const std::size_t first_weight = weight_begin_[set];
    const std::size_t last_weight = weight_begin_[set + 1];
    if (heaviness[set] <= limit && set != heaviest) {
      removed += heaviness[set];
      continue;
    }
    // Moves towards the front only, and entries of later sets are read before they are overwritten.
    for (std::size_t from = first_member; from < last_member; ++from) {
      members_[member_end++] = members_[from];
    }
    for (std::size_t from = first_weight; from < last_weight; ++from) {
      weights_[weight_end++] = weights_[from];
    }
    ++kept;
    member_begin_[kept] = member_end;
    weight_begin_[kept] = weight_end;
  }
  member_begin_.resize(kept + 1);
  weight_begin_.resize(kept + 1);
  members_.resize(member_end);
  weights_.resize(weight_end);
  return removed;
}

namespace {

std::size_t hash_of(std::span<const std::uint32_t> members) {
  std::uint64_t hash = 0x9e3779b97f4a7c15U;
  for (const std::uint32_t member : members) {
    hash = (hash ^ (member + 1)) * 0xbf58476d1ce4e5b9U;
    hash ^= hash >> 29U;
  }
  return hash;
}

}  // namespace

SetIndex::SetIndex(const SetList& list) {
  rebuild(list);
}

void SetIndex::rebuild(const SetList& list) {
  std::size_t slots = 16;
  while (slots < list.size() * 3) slots *= 2;
  slots_.assign(slots, 0);
  for (std::size_t set = 0; set < list.size(); ++set) place(list, set);
}

void SetIndex::place(const SetList& list, std::size_t set) {
  std::size_t slot = hash_of(list.members(set)) & (slots_.size() - 1);
  while (slots_[slot] != 0) slot = (slot + 1) & (slots_.size() - 1);
  slots_[slot] = static_cast<std::uint32_t>(set + 1);
}

void SetIndex::added(const SetList& list, std::size_t set) {
  if (list.size() * 2 > slots_.size()) {
    rebuild(list);
  } else {
    place(list, set);
  }
}

std::size_t SetIndex::find(const SetList& list, std::span<const std::uint32_t> members) const {
  std::size_t slot = hash_of(members) & (slots_.size() - 1);
  while (slots_[slot] != 0) {
    const std::size_t set = slots_[slot] - 1;
    const auto there = list.members(set);
    if (std::equal(there.begin(), there.end(), members.begin(), members.end())) return set;
    slot = (slot + 1) & (slots_.size() - 1);
  }
  return kNone;
}

}  // namespace whichlink::belief
