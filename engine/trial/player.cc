#include "trial/player.h"

#include <optional>
#include <utility>

namespace whichlink::trial {

Player::Player(const moves::Setting& setting, const Complaint& complaint, const std::string& policy,
               const plan::Depth& depth, Memory* memory)
    : setting_(setting),
      complaint_(complaint),
      name_(policy),
      depth_(depth),
      policy_(policy_of(policy, 0, depth)),
      memory_(policy_->is_fixed() ? memory : nullptr) {}
Player::Player(Player&&) noexcept = default;
Player::~Player() = default;

Game Player::play(const Drawn& drawn, std::uint64_t seed) {
  if (!policy_->is_fixed()) policy_ = policy_of(name_, seed, depth_);
  simulate::Room room = drawn.room;
  const guide::Course& start = start_of(drawn.heard);
  std::optional<guide::Course> course;
  std::vector<Made> made;
  Game game;
  game.end = start.standing();
  Memory::Place* here = memory_ != nullptr ? memory_->first(drawn.heard) : nullptr;
  while (true) {
    const Choice* remembered = here != nullptr ? memory_->choice(here) : nullptr;
    Choice fresh;
    if (remembered == nullptr) {
      if (!course) course.emplace(caught_up(start, made));
      fresh = policy_->next(*course);
      if (here != nullptr) memory_->note(here, fresh);
    }
    const Choice& choice = remembered != nullptr ? *remembered : fresh;
    if (choice.stage != guide::Stage::under_way) {
      game.stage = choice.stage;
      game.doubt = choice.doubt;
      game.is_left_wrong = !room.sound(game.end);
      for (Made& one : made) game.made.push_back(std::move(one.move));
      return game;
    }
    const moves::Move& move = *choice.move;
    plan::KnownWays* known = policy_->known();
    const std::size_t outcome =
        known == nullptr
            ? room.respond(game.end, move)
            : room.respond(game.end, move, known->question(game.end, move, room.truth().real));
    game.minutes += move.minutes;
    made.push_back({move, outcome});
    if (course) take(*course, made.back());
    game.end = moves::after(setting_, game.end, move);
    if (here != nullptr) here = memory_->next(here, outcome);
  }
}

const guide::Course& Player::start_of(std::size_t heard) {
  const auto found = starts_.find(heard);
  if (found != starts_.end()) return found->second;
  const SignalId signal = setting_.chain().routes[complaint_.route].signal;
  const faults::Sense& sense = setting_.rules().senses[setting_.rules().signals[signal].sense];
  return starts_
      .emplace(heard, guide::Course(setting_, complaint_.route, complaint_.listener,
                                    moves::weights_of_outcome(sense, heard)))
      .first->second;
}

void Player::take(guide::Course& course, const Made& made) const {
  const faults::Sense& sense = setting_.rules().senses[made.move.sense];
  course.take(made.move, {sense.outcome_name(made.outcome), std::nullopt},
              moves::weights_of_outcome(sense, made.outcome), policy_->known());
}

guide::Course Player::caught_up(const guide::Course& start, const std::vector<Made>& made) const {
  guide::Course course = start;
  for (const Made& one : made) take(course, one);
  return course;
}

}  // namespace whichlink::trial
