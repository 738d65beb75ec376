#include "trial/player.h"

#include <optional>
#include <utility>

namespace whichlink::trial {

/// What a fixed policy chooses after one sequence of reports, and where each next report leads.
struct Player::Remembered {
  std::optional<Choice> choice;
  std::map<std::size_t, std::unique_ptr<Remembered>> next;  // by outcome
};

Player::Player(const moves::Setting& setting, const Complaint& complaint, const std::string& policy,
               const plan::Depth& depth)
    : setting_(setting),
      complaint_(complaint),
      name_(policy),
      depth_(depth),
      policy_(policy_of(policy, 0, depth)) {}
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
  Remembered scratch;
  std::unique_ptr<Remembered>& first = remembered_[drawn.heard];
  if (!first) first = std::make_unique<Remembered>();
  Remembered* here = policy_->is_fixed() ? first.get() : &scratch;
  while (true) {
    if (!here->choice) {
      if (!course) course.emplace(caught_up(start, made));
      here->choice = policy_->next(*course);
    }
    const Choice& choice = *here->choice;
    if (choice.stage != guide::Stage::under_way) {
      game.stage = choice.stage;
      game.doubt = choice.doubt;
      game.is_left_wrong = !room.sound(game.end);
      for (const Made& one : made) game.made.push_back(*one.move);
      return game;
    }
    const moves::Move& move = *choice.move;
    const std::size_t outcome = room.respond(game.end, move);
    game.minutes += move.minutes;
    made.push_back({&move, outcome});
    if (course) take(*course, made.back());
    game.end = moves::after(setting_, game.end, move);
    std::unique_ptr<Remembered>& next = here->next[outcome];
    if (!next) next = std::make_unique<Remembered>();
    here = next.get();
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
  const faults::Sense& sense = setting_.rules().senses[made.move->sense];
  course.take(*made.move, {sense.outcome_name(made.outcome), std::nullopt},
              moves::weights_of_outcome(sense, made.outcome));
}

guide::Course Player::caught_up(const guide::Course& start, const std::vector<Made>& made) const {
  guide::Course course = start;
  for (const Made& one : made) take(course, one);
  return course;
}

}  // namespace whichlink::trial
