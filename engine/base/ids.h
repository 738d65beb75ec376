#pragma once

#include <compare>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace whichlink {

/// A small integer that names one thing of one kind and indexes the vector that holds them all.
/// Ids of different kinds do not mix: an ElementId cannot index the routes.
template <class Tag>
struct Id {
  std::uint32_t value = 0;
  friend auto operator<=>(const Id&, const Id&) = default;
};

using PlaceId = Id<struct PlaceTag>;
using PartId = Id<struct PartTag>;            ///< what a hand holds: a cord with its moulded plugs
using ElementId = Id<struct ElementTag>;      ///< what the signal passes
using ConductorId = Id<struct ConductorTag>;  ///< one lane of an element; a vertex of the graph
using RouteId = Id<struct RouteTag>;
using ClassId = Id<struct ClassTag>;
using ModeId = Id<struct ModeTag>;    ///< a fault mode of the rules
using FaultId = Id<struct FaultTag>;  ///< a fault mode at one element (or lane) of an installation
using SenseId = Id<struct SenseTag>;
using StressId = Id<struct StressTag>;
using RemedyId = Id<struct RemedyTag>;
using SignalId = Id<struct SignalTag>;
using PartKindId = Id<struct PartKindTag>;

/// A vector that only its own id indexes.
template <class IdType, class Value>
class IdVector {
 public:
  Value& operator[](IdType id) { return values_[id.value]; }
  const Value& operator[](IdType id) const { return values_[id.value]; }
  IdType add(Value value) {
    values_.push_back(std::move(value));
    return IdType{static_cast<std::uint32_t>(values_.size() - 1)};
  }
  [[nodiscard]] std::size_t size() const { return values_.size(); }
  [[nodiscard]] bool empty() const { return values_.empty(); }
  void resize(std::size_t count, const Value& value = Value{}) { values_.resize(count, value); }
  [[nodiscard]] bool holds(IdType id) const { return id.value < values_.size(); }
  /// All ids in ascending order.
  [[nodiscard]] std::vector<IdType> ids() const {
    std::vector<IdType> all;
    all.reserve(values_.size());
    for (std::uint32_t index = 0; index < values_.size(); ++index) all.push_back(IdType{index});
    return all;
  }
  auto begin() { return values_.begin(); }
  auto end() { return values_.end(); }
  [[nodiscard]] auto begin() const { return values_.begin(); }
  [[nodiscard]] auto end() const { return values_.end(); }
  friend bool operator==(const IdVector&, const IdVector&) = default;

 private:
  std::vector<Value> values_;
};

}  // namespace whichlink
