#pragma once

#include <optional>
#include <string>
#include <vector>

#include "belief/network.h"
#include "chain/chain.h"
#include "moves/installation.h"

namespace whichlink::moves {

/// One way in which this installation can be bad: a mode of the rules at one element or lane, or
/// the unlisted cause of one route.
struct Fault {
  std::optional<ModeId> mode;        ///< absent: the unlisted cause
  std::optional<ElementId> element;  ///< absent: the unlisted cause
  std::optional<ConductorId> lane;   ///< the lane it is limited to; absent: the whole element
  std::optional<RouteId> route;      ///< the unlisted cause's route
};

/// An installation made ready for reckoning: its faults, and the numbers of docs/mathematics.md 1
/// for all of them. Keeps a reference: the installation must outlive it, and neither may be moved.
class Setting {
 public:
  /// @param days_since_pass  since every route last passed a check; >= 0. A fault's prior is
  ///        1 - exp(-rate * days / 365.25), the chance of at least one event of a Poisson process.
  Setting(const Installation& installation, double days_since_pass);
  Setting(const Setting&) = delete;
  Setting& operator=(const Setting&) = delete;
  ~Setting() = default;

  [[nodiscard]] const Installation& installation() const { return installation_; }
  [[nodiscard]] const chain::Chain& chain() const { return installation_.chain; }
  [[nodiscard]] const faults::Rules& rules() const { return installation_.rules; }
  [[nodiscard]] const chain::Tracer& tracer() const { return tracer_; }
  [[nodiscard]] const IdVector<FaultId, Fault>& faults() const { return faults_; }
  [[nodiscard]] const belief::Network& network() const { return network_; }
  [[nodiscard]] double days_since_pass() const { return days_since_pass_; }

  /// Faults of one conductor: its lane's and its element's; ascending.
  [[nodiscard]] const std::vector<FaultId>& faults_at(ConductorId conductor) const {
    return at_conductor_[conductor];
  }
  [[nodiscard]] const std::vector<FaultId>& faults_of(ElementId element) const {
    return of_element_[element];
  }
  [[nodiscard]] FaultId unlisted_of(RouteId route) const { return unlisted_[route]; }
  /// Elements bonded to this one for good: what moves along when it is moved.
  [[nodiscard]] const std::vector<ElementId>& bonded_to(ElementId element) const {
    return bonded_[element];
  }
  /// Faults on a path, ascending, without repeats; `route`'s unlisted cause included.
  [[nodiscard]] std::vector<FaultId> faults_on(const chain::Path& path, RouteId route) const;
  /// Routes that the fault lies on, as everything is plugged at home; ascending.
  [[nodiscard]] std::vector<RouteId> routes_with(FaultId fault) const;
  /// The middle rate of its mode, per item and year.
  [[nodiscard]] double rate_per_year(FaultId fault) const;
  /// "a conductor broken inside headset cord (left)"
  [[nodiscard]] std::string words_of(FaultId fault) const;
  /// "headset cord.cord.left: broken conductor", unique.
  [[nodiscard]] std::string name_of(FaultId fault) const;
  /// The coarse kind of the rules; "unlisted" for a cause not listed.
  [[nodiscard]] std::string family_of(FaultId fault) const;

 private:
  void list_faults();
  void add_fault(const Fault& fault, double chance_present, double chance_shows);
  [[nodiscard]] double spare_chance(const chain::Part& part, ModeId mode) const;

  const Installation& installation_;
  double days_since_pass_;
  chain::Tracer tracer_;
  IdVector<FaultId, Fault> faults_;
  belief::Network network_;
  IdVector<ConductorId, std::vector<FaultId>> at_conductor_;
  IdVector<ElementId, std::vector<FaultId>> of_element_;
  IdVector<RouteId, FaultId> unlisted_;
  IdVector<ElementId, std::vector<ElementId>> bonded_;
};

/// Chance that an event of this rate happened at least once in that many days.
[[nodiscard]] double chance_within(double rate_per_year, double days);

}  // namespace whichlink::moves
