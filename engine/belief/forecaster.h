#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "belief/information.h"
#include "belief/set_belief.h"
#include "belief/two_doubles.h"

namespace whichlink::belief {

/// What a fault that is quiet (0) or showing (1) before a move does by it: the chance that it then
/// does not show (or is not on the path), and that it shows.
struct View {
  std::array<double, 2> still = {1, 0};
  std::array<double, 2> shows = {0, 1};
};
/// The same in parts, for a member of a set.
struct MemberMove {
  View any;      ///< whatever it is after the move
  View present;  ///< only the part where it is present after the move
  View absent;   ///< only the part where it is absent
  bool can_be_cured = false;
  bool can_appear = false;
};

/// A question as the numbers that a forecast needs, whatever is believed: read once where many
/// beliefs are asked.
class ReadQuestion {
 public:
  static constexpr std::uint32_t kNowhere = static_cast<std::uint32_t>(-1);

  /// Of no question yet.
  ReadQuestion() = default;
  ReadQuestion(Question question, const Network& network);

  [[nodiscard]] const Question& question() const { return question_; }
  [[nodiscard]] std::size_t severities() const { return question_.leak_at_most.size(); }
  [[nodiscard]] std::size_t outcomes() const { return question_.report[0].size(); }
  /// Severities, made even: the length of every row by severity.
  [[nodiscard]] std::size_t width() const { return width_; }
  /// Three rows: chance of the severity, of at most, of less than it. Null if not on the path.
  [[nodiscard]] const double* draw(std::uint32_t fault) const {
    const std::uint32_t position = path_position_[fault];
    return position == kNowhere ? nullptr : draws_.data() + std::size_t{3} * position * width_;
  }
  [[nodiscard]] const StateMatrix& matrix(std::uint32_t fault) const {
    const std::uint32_t position = transition_[fault];
    return position == kNowhere ? kIdentity : question_.transitions[position].matrix;
  }
  [[nodiscard]] const MemberMove& member_move(std::uint32_t fault) const {
    return moves_[move_of_[fault]];
  }
  /// By outcome, padded with 0 to even(outcomes()).
  [[nodiscard]] const double* report(std::size_t severity) const {
    return report_.data() + severity * even(outcomes());
  }
  /// By severity.
  [[nodiscard]] const std::vector<double>& leak() const { return leak_; }
  /// By severity: bits that the report has of its own, if that is the worst.
  [[nodiscard]] const std::vector<double>& noise() const { return noise_; }

 private:
  Question question_;
  std::size_t width_ = 0;
  std::vector<double> draws_;                 // [position on the path][3][severity]
  std::vector<std::uint32_t> path_position_;  // by fault
  std::vector<std::uint32_t> transition_;     // by fault: position in the question's transitions
  std::vector<MemberMove> moves_;             // each once: faults of a kind move alike
  std::vector<std::uint32_t> move_of_;        // by fault: position in moves_
  std::vector<double> report_;                // [severity][outcome]
  std::vector<double> leak_;                  // by severity
  std::vector<double> noise_;                 // the same
};

/// The work behind SetBelief::forecast (docs/mathematics.md 5), one belief and question after the
/// other. Given the set of faults present before the move, all faults are independent: the members
/// of the set, and the *rest*: faults that may appear by the move, and faults on the path that no
/// hearing had before. So the worst severity is the worse of the members' worst and the rest's
/// worst, and no larger sets are made. Buffers are made once; nothing is allocated per set.
class Forecaster {
 public:
  /// All must outlive the answers.
  void start(const FaultBelief& belief, const ReadQuestion& read, const std::vector<bool>& about);

  /// Goes over the sets once, for the outcomes, for the bits, or for both.
  void run(bool with_marginals, bool with_bits);

  /// After a run with marginals: what follows is Outcome by Outcome, present of the faults wanted,
  /// in their order.
  void sum_up(const Wanted& wanted);
  [[nodiscard]] std::vector<Outcome> outcomes() const;
  [[nodiscard]] std::size_t reports() const { return outcomes_; }
  [[nodiscard]] double chance(std::size_t outcome) const { return chance_[outcome] / chance_all_; }
  [[nodiscard]] double none_present(std::size_t outcome) const { return none_present_[outcome]; }
  [[nodiscard]] std::span<const double> present(std::size_t outcome) const {
    return {present_after_.data() + outcome * wanted_, wanted_};
  }
  /// Bits that the report has of its own, given the worst severity; after run with marginals.
  [[nodiscard]] double noise() const;
  /// Over the sets of `belief`.
  [[nodiscard]] double bits() { return information_.bits(); }

 private:
  static constexpr std::size_t kNoRest = static_cast<std::size_t>(-1);

  /// A heard fault, as a member of a set.
  struct Member {
    const MemberMove* move = nullptr;
    const double* draw = nullptr;  ///< as of ReadQuestion; null if not on the path
    bool about = false;
    std::size_t rest = kNoRest;  ///< its position in the rest, if it can appear
  };
  /// A fault outside the set that is, or may become, present.
  struct Rest {
    std::uint32_t fault = 0;
    StateVector after{};           ///< the move
    const double* draw = nullptr;  ///< null if not on the path
    bool about = false;
  };
  /// Sets that share the members that can appear: they have the same rest.
  struct Group {
    bool used = false;
    std::vector<double> worst;  ///< of the members, by severity, summed over the sets
    std::vector<double> none;   ///< only the part where no fault asked about is present
  };

  void add_members();
  void add_newly_heard();
  void prepare_rest();

  /// P(set, worst severity) into heard_, that of the members alone into worst_.
  /// @return the worst of the rest, by severity; null if it is silent
  const double* visit(std::span<const std::uint32_t> members, std::span<const double> weights);
  void visit_members(std::span<const std::uint32_t> members, std::span<const double> weights,
                     const double* rest);
  void add_to_group(std::span<const std::uint32_t> members, std::span<const double> weights);
  void finish_group(std::span<const std::size_t> without, const Group& group);

  void worst_of_members(std::span<const std::uint32_t> members, std::span<const double> weights,
                        double* worst);
  /// From cells_, one per way in which the members on the path can show; `draws` begins with the
  /// member of the highest bit.
  void draw_members(std::span<const double* const> draws, double* worst);
  void draw_pair(const double* first, const double* second, double* worst) const;
  bool move_pair(std::span<const std::uint32_t> members, std::span<const double> weights);
  void worst_of_rest(std::span<const std::size_t> without, double* worst) const;
  /// `rest` may be null, which is silent; `worst` may be `members`.
  void worse_of_both(const double* members, const double* rest, double* worst) const;
  /// chance x report, summed over the worst severities, for each outcome.
  void put_report_of(const double* worst, std::vector<double>& by_outcome) const;
  /// What the report says nothing of: chances of faults neither in the sets nor on the path.
  /// @return the chance that none of them that is asked about is present
  double settle(const Wanted& wanted);
  void sum_up_present(std::uint32_t fault, const double* worst, const Wanted& wanted);

  const FaultBelief* belief_ = nullptr;
  const ReadQuestion* read_ = nullptr;
  const std::vector<bool>* about_ = nullptr;
  std::size_t severities_ = 0;
  std::size_t outcomes_ = 0;
  std::size_t width_ = 0;  ///< as of ReadQuestion

  std::vector<Member> members_;  // by heard place
  std::vector<Rest> rest_;
  std::vector<double> rest_draws_;          // [rest][severity], not showing counts as the mildest
  std::vector<double> rest_worst_;          // leak and the whole rest
  bool silent_rest_ = false;                // they are never heard
  std::vector<double> rest_worst_without_;  // [rest][severity]: leak and the rest but one

  // Sums over the sets.
  Information information_;
  std::vector<double> total_;         // by severity
  std::vector<double> present_;       // [heard place][severity]
  std::vector<double> rest_present_;  // [rest][severity]
  std::vector<double> none_;          // by severity
  Group common_;
  std::vector<Group> but_one_;  // by rest

  // Of sum_up, by outcome.
  std::size_t wanted_ = 0;  ///< how many faults
  std::vector<double> chance_;
  double chance_all_ = 1;
  std::vector<double> none_present_;
  std::vector<double> present_after_;  ///< [outcome][wanted]
  std::vector<double> joint_;

  // Buffers.
  std::vector<const View*> views_;  // by member
  std::vector<const double*> on_path_;
  std::vector<double> cells_;
  std::vector<double> vectors_;
  std::vector<double> worst_, heard_, other_, rest_buffer_;
  std::vector<std::size_t> without_;
  std::vector<double> before_, behind_;
  Group alone_;
};

}  // namespace whichlink::belief
