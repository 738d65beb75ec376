#include "history/progress.h"

#include <algorithm>
#include <map>

namespace whichlink::history {

record::Drilled drilled(const drill::Drill& drill, const std::string& trainee,
                        const std::string& lesson) {
  const drill::Score score = drill.score();
  record::Drilled one;
  one.trainee = trainee;
  one.lesson = lesson;
  one.drill_case = drill.given().name;
  one.seed = drill.given().seed;
  one.ideal = score.ideal;
  one.lost = score.lost;
  one.minutes = score.minutes;
  one.moves = score.moves;
  one.told_nothing = score.told_nothing;
  one.named_by_hint = score.told_moves;
  one.not_put_back = score.not_put_back.size();
  one.unchecked = score.unchecked.size();
  one.blamed = score.blamed.size();
  one.borrowed_left_in = score.borrowed_left_in;
  one.service = score.service;
  one.left_in = score.left_in;
  for (std::size_t index = 0; index < score.by_habit.size(); ++index) {
    if (score.by_habit[index] <= 0) continue;
    one.losses.push_back({drill::habit_names()[index], score.by_habit[index]});
  }
  std::stable_sort(one.losses.begin(), one.losses.end(),
                   [](const auto& a, const auto& b) { return a.minutes > b.minutes; });
  for (const drill::Claim& claim : drill.claims()) {
    one.claims.push_back({claim.name, claim.sure, claim.believed, claim.is_true, claim.supported});
  }
  return one;
}

Losses losses_of(const std::vector<record::Drilled>& drills) {
  Losses sum;
  sum.drills = drills.size();
  std::map<std::string, double> by_habit;
  for (const record::Drilled& one : drills) {
    sum.ideal += one.ideal;
    sum.lost += one.lost;
    for (const record::DrillLoss& loss : one.losses) by_habit[loss.habit] += loss.minutes;
  }
  for (const auto& [habit, minutes] : by_habit) sum.by_habit.push_back({habit, minutes});
  std::stable_sort(sum.by_habit.begin(), sum.by_habit.end(),
                   [](const auto& a, const auto& b) { return a.minutes > b.minutes; });
  return sum;
}

Progress progress_of(const std::string& trainee, std::vector<record::Drilled> drills) {
  Progress progress;
  progress.trainee = trainee;
  progress.all = losses_of(drills);
  const auto half = static_cast<std::ptrdiff_t>(drills.size() / 2);
  progress.late = losses_of({drills.begin() + half, drills.end()});
  std::vector<drill::Said> said;
  for (const record::Drilled& one : drills) {
    progress.told_nothing += one.told_nothing;
    if (one.not_put_back > 0) ++progress.left_changed;
    if (one.unchecked > 0 || one.borrowed_left_in) ++progress.unchecked;
    for (const record::DrillClaim& claim : one.claims) {
      said.push_back({claim.sure, claim.is_true});
      if (!claim.supported) ++progress.unsupported;
    }
  }
  progress.calibration = drill::calibration_of(said);
  progress.drills = std::move(drills);
  return progress;
}

ClassView class_of(const std::vector<record::Drilled>& drills) {
  std::map<std::string, std::vector<record::Drilled>> by_trainee;
  std::map<std::string, std::map<std::string, std::vector<record::Drilled>>> by_lesson;
  for (const record::Drilled& one : drills) {
    by_trainee[one.trainee].push_back(one);
    by_lesson[one.lesson][one.trainee].push_back(one);
  }
  ClassView view;
  for (auto& [trainee, theirs] : by_trainee) {
    view.trainees.push_back(progress_of(trainee, std::move(theirs)));
  }
  for (const auto& [lesson, played] : by_lesson) {
    LessonOfClass row;
    row.lesson = lesson;
    row.trainees = played.size();
    std::vector<record::Drilled> all;
    for (const auto& [trainee, theirs] : played) {
      all.insert(all.end(), theirs.begin(), theirs.end());
      const double kept = losses_of(theirs).share_kept();
      if (kept >= row.weakest_kept) continue;
      row.weakest_kept = kept;
      row.weakest = trainee;
    }
    row.losses = losses_of(all);
    view.lessons.push_back(std::move(row));
  }
  std::stable_sort(view.lessons.begin(), view.lessons.end(), [](const auto& a, const auto& b) {
    return a.losses.share_kept() < b.losses.share_kept();
  });
  return view;
}

}  // namespace whichlink::history
