#include "drill/value.h"

#include <algorithm>

namespace whichlink::drill {

bool same(const Choice& a, const Choice& b) {
  if (a.verdict != b.verdict || a.move.has_value() != b.move.has_value()) return false;
  return !a.move || a.move->name == b.move->name;
}

Values::Values(const guide::Case& one, const guide::Track& track, const plan::Depth& depth)
    : advice_(one.advise(depth)),
      changed_(one.standing().temporary.has_value()),
      miss_minutes_(one.setting().installation().prices.miss_minutes) {
  // The advice leaves out moves that are worn out; a trainee may make them all the same.
  constexpr plan::Depth kNoSearch{0, 0, 0};
  all_ = track.worn_out().empty()
             ? advice_.plan
             : plan::plan_next(one.setting(), one.belief(), one.standing(), {}, track.heard_wrong(),
                               plan::Aim::time, kNoSearch);
  switch (advice_.stage) {
    case guide::Stage::under_way:
      advised_ = {plan::Verdict::move, advice_.move};
      break;
    case guide::Stage::handed_over:
      advised_ = {plan::Verdict::service, std::nullopt};
      break;
    case guide::Stage::mended:
    case guide::Stage::nothing_found:
      advised_ = {plan::Verdict::close, std::nullopt};
      break;
  }
  least_ = std::min(of({plan::Verdict::close, std::nullopt}),
                    of({plan::Verdict::service, std::nullopt}));
  for (const plan::Candidate& candidate : all_.candidates) {
    least_ = std::min(least_, candidate.expected_minutes);
  }
}

const plan::Candidate* Values::candidate(const std::string& name) const {
  const auto found =
      std::find_if(all_.candidates.begin(), all_.candidates.end(),
                   [&](const plan::Candidate& candidate) { return candidate.move.name == name; });
  return found == all_.candidates.end() ? nullptr : &*found;
}

double Values::of(const Choice& choice) const {
  switch (choice.verdict) {
    case plan::Verdict::close:
      return changed_ ? std::max(miss_minutes_, all_.close_minutes) : all_.close_minutes;
    case plan::Verdict::service:
      return all_.service_minutes;
    case plan::Verdict::move:
      break;
  }
  const plan::Candidate* found = candidate(choice.move->name);
  return found == nullptr ? least_ : found->expected_minutes;
}

double Values::lost_by(const Choice& choice) const {
  if (same(choice, advised_)) return 0;
  return std::max(0.0, of(choice) - least_);
}

}  // namespace whichlink::drill
