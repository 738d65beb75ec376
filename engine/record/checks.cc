#include "record/file.h"
#include "record/record.h"

namespace whichlink::record {
namespace {

constexpr const char* kCheckHead =
    "SELECT round.id, name, list, listener, model, trip_db, opened, ended, (SELECT count(*) FROM "
    "round_route WHERE "
    "round = round.id AND result = 'passed'), (SELECT count(*) FROM round_route WHERE round = "
    "round.id AND result = 'failed') FROM round JOIN installation ON installation.id = "
    "round.installation ";

CheckHead check_head_from(Statement& row) {
  CheckHead head;
  head.number = row.getColumn(0).getInt64();
  head.installation = row.getColumn(1).getString();
  head.list = row.getColumn(2).getString();
  head.listener = row.getColumn(3).getString();
  head.model = row.getColumn(4).getString();
  head.trip_db = number_of(row.getColumn(5));
  head.opened = row.getColumn(6).getString();
  head.ended = text_of(row.getColumn(7));
  head.passed = static_cast<std::size_t>(row.getColumn(8).getInt64());
  head.failed = static_cast<std::size_t>(row.getColumn(9).getInt64());
  return head;
}

}  // namespace

Result<Number> Record::begin_check(const CheckHead& head, const std::string& at) {
  return file_->write<Number>([&]() -> Result<Number> {
    Statement add = file_->ask(
        "INSERT INTO round (installation, list, listener, model, trip_db, opened) VALUES (?, ?, ?, "
        "?, ?, ?)");
    add.bind(1, file_->known_installation(head.installation, at));
    add.bind(2, head.list);
    add.bind(3, head.listener);
    add.bind(4, head.model);
    bind_number(add, 5, head.trip_db);
    add.bind(6, at);
    add.exec();
    return file_->database().getLastInsertRowid();
  });
}

Result<bool> Record::add_check_answer(Number one, const CheckAnswer& answer) {
  return file_->write<bool>([&]() -> Result<bool> {
    Statement add = file_->ask(
        "INSERT INTO round_answer (round, kind, step, answer, extra, first, second, at) VALUES (?, "
        "?, ?, ?, ?, ?, ?, ?)");
    add.bind(1, one);
    add.bind(2, answer.kind);
    add.bind(3, answer.step);
    add.bind(4, answer.answer);
    add.bind(5, answer.extra);
    bind_number(add, 6, answer.first);
    bind_number(add, 7, answer.second);
    add.bind(8, answer.at);
    add.exec();
    return true;
  });
}

Result<bool> Record::take_back_check_answer(Number one) {
  return file_->write<bool>([&]() -> Result<bool> {
    Statement mark = file_->ask(
        "UPDATE round_answer SET taken_back = 1 WHERE id = (SELECT max(id) FROM round_answer WHERE "
        "round = ? AND NOT taken_back)");
    mark.bind(1, one);
    return mark.exec() == 1;
  });
}

Result<bool> Record::set_results(Number one, const std::vector<RouteResult>& routes,
                                 const std::string& ended) {
  return file_->write<bool>([&]() -> Result<bool> {
    Statement clear = file_->ask("DELETE FROM round_route WHERE round = ?");
    clear.bind(1, one);
    clear.exec();
    for (const RouteResult& route : routes) {
      Statement add = file_->ask("INSERT INTO round_route VALUES (?, ?, ?, ?, ?)");
      add.bind(1, one);
      add.bind(2, route.route);
      add.bind(3, route.result);
      add.bind(4, route.heard);
      add.bind(5, route.stressed ? 1 : 0);
      add.exec();
    }
    if (!ended.empty()) {
      Statement close = file_->ask("UPDATE round SET ended = ? WHERE id = ? AND ended IS NULL");
      close.bind(1, ended);
      close.bind(2, one);
      close.exec();
    }
    return true;
  });
}

Result<std::optional<Number>> Record::last_open_check(const std::string& installation) const {
  return file_->read<std::optional<Number>>([&]() -> Result<std::optional<Number>> {
    Statement ask = file_->ask(
        "SELECT max(round.id) FROM round JOIN installation ON installation.id = round.installation "
        "WHERE name = ? AND ended IS NULL");
    ask.bind(1, installation);
    ask.executeStep();
    if (ask.getColumn(0).isNull()) return std::optional<Number>();
    return std::optional<Number>(ask.getColumn(0).getInt64());
  });
}

Result<CheckStory> Record::check_story_of(Number one) const {
  return file_->read<CheckStory>([&]() -> Result<CheckStory> {
    CheckStory story;
    Statement head = file_->ask((std::string(kCheckHead) + "WHERE round.id = ?").c_str());
    head.bind(1, one);
    if (!head.executeStep()) {
      return tl::unexpected(Problems{file_->problem("has no check " + std::to_string(one),
                                                    "a number that whichlink log lists")});
    }
    story.head = check_head_from(head);
    Statement answers = file_->ask(
        "SELECT kind, step, answer, extra, first, second, at FROM round_answer WHERE round = ? AND "
        "NOT taken_back ORDER BY id");
    answers.bind(1, one);
    while (answers.executeStep()) {
      story.answers.push_back({answers.getColumn(0).getString(), answers.getColumn(1).getString(),
                               answers.getColumn(2).getString(), answers.getColumn(3).getString(),
                               number_of(answers.getColumn(4)), number_of(answers.getColumn(5)),
                               answers.getColumn(6).getString()});
    }
    Statement routes =
        file_->ask("SELECT route, result, heard, stressed FROM round_route WHERE round = ?");
    routes.bind(1, one);
    while (routes.executeStep()) {
      story.routes.push_back({routes.getColumn(0).getString(), routes.getColumn(1).getString(),
                              routes.getColumn(2).getString(), routes.getColumn(3).getInt() != 0});
    }
    return story;
  });
}

Result<std::vector<CheckHead>> Record::checks(const Filter& filter) const {
  return file_->read<std::vector<CheckHead>>([&]() -> Result<std::vector<CheckHead>> {
    std::string sql = std::string(kCheckHead) + "WHERE 1 ";
    std::vector<std::string> values;
    const auto where = [&](const char* condition, const std::string& value) {
      if (value.empty()) return;
      sql += std::string("AND ") + condition + " ";
      values.push_back(value);
    };
    where("name = ?", filter.installation);
    where("opened >= ?", filter.from);
    where("opened < ? || 'U'", filter.until);
    where("round.id IN (SELECT round FROM round_route WHERE route = ?)", filter.route);
    sql += "ORDER BY opened DESC, round.id DESC";
    if (filter.most > 0) sql += " LIMIT " + std::to_string(filter.most);
    Statement ask = file_->ask(sql.c_str());
    for (std::size_t index = 0; index < values.size(); ++index) {
      ask.bind(static_cast<int>(index) + 1, values[index]);
    }
    std::vector<CheckHead> heads;
    while (ask.executeStep()) heads.push_back(check_head_from(ask));
    return heads;
  });
}

Result<std::vector<RouteCheck>> Record::checks_of(const std::string& installation,
                                                  const std::string& route) const {
  return file_->read<std::vector<RouteCheck>>([&]() -> Result<std::vector<RouteCheck>> {
    Statement ask = file_->ask(
        "SELECT opened, result, listener, stressed FROM round_route JOIN round ON round.id = "
        "round_route.round JOIN installation ON installation.id = round.installation WHERE route = "
        "? AND name = ? AND result IN ('passed', 'failed') ORDER BY opened, round.id");
    ask.bind(1, route);
    ask.bind(2, installation);
    std::vector<RouteCheck> checks;
    while (ask.executeStep()) {
      checks.push_back({ask.getColumn(0).getString(), ask.getColumn(1).getString(),
                        ask.getColumn(2).getString(), ask.getColumn(3).getInt() != 0});
    }
    return checks;
  });
}

// A case that ends mended ends with the route under all its stresses and nothing wrong to hear.
Result<std::optional<std::string>> Record::last_pass(const std::string& installation,
                                                     const std::string& route) const {
  return file_->read<std::optional<std::string>>([&]() -> Result<std::optional<std::string>> {
    Statement ask = file_->ask(
        "SELECT max(at) FROM ("
        "SELECT max(opened) AS at FROM round_route JOIN round ON round.id = round_route.round "
        "JOIN installation ON installation.id = round.installation WHERE route = ?1 AND name = ?2 "
        "AND result = 'passed' UNION ALL "
        "SELECT max(ended) FROM isolation JOIN installation ON installation.id = "
        "isolation.installation WHERE route = ?1 AND name = ?2 AND ending = 'mended')");
    ask.bind(1, route);
    ask.bind(2, installation);
    ask.executeStep();
    if (ask.getColumn(0).isNull()) return std::optional<std::string>();
    return std::optional(ask.getColumn(0).getString());
  });
}

}  // namespace whichlink::record
