#pragma once

#include <string>
#include <utility>
#include <vector>

#include "base/ids.h"
#include "faults/rate.h"

namespace whichlink::faults {

/// What it takes to have a spare of one kind of part.
struct SpareTerms {
  double lead_days = 0;   ///< from ordering one to having it
  double ready_days = 0;  ///< once it is put in, until it may be used (its calibration)
  std::string source;
};

/// Something that remedies use up, or every session does.
struct Supply {
  std::string name;
  double price_minutes = 0;  ///< of one, as minutes
  double lead_days = 0;
  std::size_t batch = 1;            ///< it is ordered in so many at least
  double shelf_days = 0;            ///< for which it keeps; 0: for good
  Rate a_session;                   ///< how many a session uses; 0: only remedies use it
  std::vector<SignalId> only_with;  ///< sessions that use one of these; none: every session
  std::string source;
};

/// What is held in stock, how more of it comes, and what goes on without it.
struct Stores {
  double lead_days = 0;            ///< of anything that says nothing else
  double held_share_per_year = 0;  ///< of its price that a part costs by lying there for a year
  double service = 0;  ///< wanted chance not to run out, where lacking has no price; 0 to 1
  IdVector<PartKindId, SpareTerms> parts;
  std::vector<Supply> supplies;
  /// The share of a signal's sessions that go on while it is out.
  IdVector<SignalId, double> goes_on;
  /// The same while another signal works: [signal] to (other, share).
  IdVector<SignalId, std::vector<std::pair<SignalId, double>>> stands_in;
  std::string source;
};

}  // namespace whichlink::faults
