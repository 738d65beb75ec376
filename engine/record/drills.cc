#include "record/file.h"
#include "record/record.h"

namespace whichlink::record {
namespace {

void bind_count(Statement& statement, int index, std::size_t count) {
  statement.bind(index, static_cast<std::int64_t>(count));
}

std::size_t count_of(const SQLite::Column& column) {
  return static_cast<std::size_t>(column.getInt64());
}

Drilled drilled_from(Statement& row) {
  Drilled one;
  int column = 0;
  const auto next = [&] { return row.getColumn(column++); };
  one.number = next().getInt64();
  one.trainee = next().getString();
  one.lesson = next().getString();
  one.drill_case = next().getString();
  one.seed = static_cast<std::uint64_t>(next().getInt64());
  one.at = next().getString();
  one.ideal = next().getDouble();
  one.lost = next().getDouble();
  one.minutes = next().getDouble();
  one.moves = count_of(next());
  one.told_nothing = count_of(next());
  one.named_by_hint = count_of(next());
  one.not_put_back = count_of(next());
  one.unchecked = count_of(next());
  one.blamed = count_of(next());
  one.borrowed_left_in = next().getInt() != 0;
  one.service = next().getInt() != 0;
  one.left_in = next().getInt() != 0;
  return one;
}

}  // namespace

Result<Number> Record::add_drill(const Drilled& drill, const std::string& at) {
  return file_->write<Number>([&]() -> Result<Number> {
    Statement add = file_->ask(
        "INSERT INTO drill (trainee, lesson, drill_case, seed, at, ideal, lost, minutes, moves, "
        "told_nothing, named_by_hint, not_put_back, unchecked, blamed, borrowed_left_in, service, "
        "left_in) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
    int index = 0;
    add.bind(++index, drill.trainee);
    add.bind(++index, drill.lesson);
    add.bind(++index, drill.drill_case);
    add.bind(++index, static_cast<std::int64_t>(drill.seed));
    add.bind(++index, at);
    for (const double value : {drill.ideal, drill.lost, drill.minutes}) add.bind(++index, value);
    for (const std::size_t count : {drill.moves, drill.told_nothing, drill.named_by_hint,
                                    drill.not_put_back, drill.unchecked, drill.blamed}) {
      bind_count(add, ++index, count);
    }
    for (const bool flag : {drill.borrowed_left_in, drill.service, drill.left_in}) {
      add.bind(++index, flag ? 1 : 0);
    }
    add.exec();
    const Number number = file_->database().getLastInsertRowid();
    for (const DrillLoss& loss : drill.losses) {
      Statement row = file_->ask("INSERT INTO drill_loss VALUES (?, ?, ?)");
      row.bind(1, number);
      row.bind(2, loss.habit);
      row.bind(3, loss.minutes);
      row.exec();
    }
    for (const DrillClaim& claim : drill.claims) {
      Statement row = file_->ask(
          "INSERT INTO drill_claim (drill, suspect, sure, believed, is_true, supported) VALUES (?, "
          "?, ?, ?, ?, ?)");
      row.bind(1, number);
      row.bind(2, claim.suspect);
      row.bind(3, claim.sure);
      row.bind(4, claim.believed);
      row.bind(5, claim.is_true ? 1 : 0);
      row.bind(6, claim.supported ? 1 : 0);
      row.exec();
    }
    return number;
  });
}

Result<std::vector<Drilled>> Record::drills(const std::string& trainee) const {
  return file_->read<std::vector<Drilled>>([&]() -> Result<std::vector<Drilled>> {
    Statement ask = file_->ask(
        "SELECT id, trainee, lesson, drill_case, seed, at, ideal, lost, minutes, moves, "
        "told_nothing, named_by_hint, not_put_back, unchecked, blamed, borrowed_left_in, service, "
        "left_in FROM drill WHERE ? IN ('', trainee) ORDER BY id");
    ask.bind(1, trainee);
    std::vector<Drilled> drills;
    while (ask.executeStep()) drills.push_back(drilled_from(ask));
    Statement losses = file_->ask(
        "SELECT habit, minutes FROM drill_loss WHERE drill = ? ORDER BY minutes DESC, habit");
    Statement claims = file_->ask(
        "SELECT suspect, sure, believed, is_true, supported FROM drill_claim WHERE drill = ? ORDER "
        "BY id");
    for (Drilled& one : drills) {
      losses.reset();
      losses.bind(1, one.number);
      while (losses.executeStep()) {
        one.losses.push_back({losses.getColumn(0).getString(), losses.getColumn(1).getDouble()});
      }
      claims.reset();
      claims.bind(1, one.number);
      while (claims.executeStep()) {
        one.claims.push_back({claims.getColumn(0).getString(), claims.getColumn(1).getDouble(),
                              claims.getColumn(2).getDouble(), claims.getColumn(3).getInt() != 0,
                              claims.getColumn(4).getInt() != 0});
      }
    }
    return drills;
  });
}

}  // namespace whichlink::record
