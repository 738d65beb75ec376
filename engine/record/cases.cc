#include "guide/course.h"
#include "record/file.h"
#include "record/record.h"

namespace whichlink::record {
namespace {

guide::Report report_from(const SQLite::Column& heard, const SQLite::Column& drop_db) {
  return {heard.getString(), number_of(drop_db)};
}

constexpr const char* kCaseHead =
    "SELECT isolation.id, name, model, route, complaint, complaint_drop_db, opened, ended, ending, "
    "minutes, likeliest_cause, (SELECT count(*) FROM answer WHERE answer.isolation = isolation.id "
    "AND taken_back IS NULL), days_since_pass FROM isolation JOIN installation "
    "ON installation.id = isolation.installation ";

CaseHead case_head_from(Statement& row) {
  CaseHead head;
  head.number = row.getColumn(0).getInt64();
  head.installation = row.getColumn(1).getString();
  head.model = row.getColumn(2).getString();
  head.route = row.getColumn(3).getString();
  head.complaint = report_from(row.getColumn(4), row.getColumn(5));
  head.opened = row.getColumn(6).getString();
  head.ended = text_of(row.getColumn(7));
  head.ending = row.getColumn(8).getString();
  head.minutes = row.getColumn(9).getDouble();
  head.likeliest_cause = row.getColumn(10).getString();
  head.answers = static_cast<std::size_t>(row.getColumn(11).getInt64());
  head.days_since_pass = number_of(row.getColumn(12));
  return head;
}

// LIKE takes these two for wildcards.
std::string within(const std::string& text) {
  std::string pattern = "%";
  for (const char letter : text) {
    if (letter == '%' || letter == '_' || letter == '\\') pattern += '\\';
    pattern += letter;
  }
  return pattern + "%";
}

}  // namespace

const std::vector<std::string>& ending_names() {
  using guide::Stage;
  static const std::vector<std::string> names{
      kOpen, name_of(Stage::mended), name_of(Stage::nothing_found), name_of(Stage::handed_over)};
  return names;
}

Result<Number> Record::begin_case(const std::string& installation, const guide::CaseFile& events,
                                  const std::string& at) {
  return file_->write<Number>([&]() -> Result<Number> {
    const Number whose = file_->known_installation(installation, at);
    Statement add = file_->ask(
        "INSERT INTO isolation (installation, model, route, complaint, complaint_drop_db, "
        "listener, aim, days_since_pass, opened) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)");
    add.bind(1, whose);
    add.bind(2, events.model);
    add.bind(3, events.route);
    add.bind(4, events.complaint.heard);
    bind_number(add, 5, events.complaint.drop_db);
    add.bind(6, events.listener);
    add.bind(7, events.aim ? plan::name_of(*events.aim) : "");
    bind_number(add, 8, events.days_since_pass);
    add.bind(9, at);
    add.exec();
    const Number number = file_->database().getLastInsertRowid();
    for (const guide::Done& done : events.done) {
      Statement answer = file_->ask(
          "INSERT INTO answer (isolation, move, heard, drop_db, at) VALUES (?, ?, ?, ?, ?)");
      answer.bind(1, number);
      answer.bind(2, done.move);
      answer.bind(3, done.report.heard);
      bind_number(answer, 4, done.report.drop_db);
      answer.bind(5, at);
      answer.exec();
    }
    return number;
  });
}

Result<bool> Record::add_answer(Number one, std::size_t before, const guide::Done& done,
                                const std::string& at) {
  return file_->write<bool>([&]() -> Result<bool> {
    // In one statement with the check, so nothing comes between.
    Statement add = file_->ask(
        "INSERT INTO answer (isolation, move, heard, drop_db, at) SELECT id, ?, ?, ?, ? FROM "
        "isolation WHERE id = ? AND ending = 'open' AND ? = (SELECT count(*) FROM answer WHERE "
        "answer.isolation = isolation.id AND taken_back IS NULL)");
    add.bind(1, done.move);
    add.bind(2, done.report.heard);
    bind_number(add, 3, done.report.drop_db);
    add.bind(4, at);
    add.bind(5, one);
    add.bind(6, static_cast<std::int64_t>(before));
    if (add.exec() == 1) return true;
    return tl::unexpected(Problems{file_->problem(
        "case " + std::to_string(one) + " was gone on with elsewhere in the meantime",
        "one person at a case; go on with --resume")});
  });
}

Result<bool> Record::take_back(Number one, std::size_t before, const std::string& at) {
  return file_->write<bool>([&]() -> Result<bool> {
    Statement mark = file_->ask(
        "UPDATE answer SET taken_back = ? WHERE id = (SELECT max(id) FROM answer WHERE isolation = "
        "? AND taken_back IS NULL) AND ? = (SELECT count(*) FROM answer WHERE isolation = ? AND "
        "taken_back IS NULL)");
    mark.bind(1, at);
    mark.bind(2, one);
    mark.bind(3, static_cast<std::int64_t>(before));
    mark.bind(4, one);
    if (mark.exec() == 1) return true;
    return tl::unexpected(Problems{file_->problem(
        "case " + std::to_string(one) + " was gone on with elsewhere in the meantime",
        "one person at a case; go on with --resume")});
  });
}

Result<bool> Record::end_case(Number one, const CaseEnd& end, const std::string& at) {
  return file_->write<bool>([&]() -> Result<bool> {
    Statement close = file_->ask(
        "UPDATE isolation SET ended = ?, ending = ?, minutes = ?, likeliest_cause = ? "
        "WHERE id = ? AND ending = 'open'");
    close.bind(1, at);
    close.bind(2, end.ending);
    close.bind(3, end.minutes);
    close.bind(4, end.causes.empty() ? "" : end.causes.front().words);
    close.bind(5, one);
    // It has ended already: then everything below is there.
    if (close.exec() != 1) return false;
    for (const Cause& cause : end.causes) {
      Statement add = file_->ask("INSERT INTO cause VALUES (?, ?, ?, ?, ?)");
      add.bind(1, one);
      add.bind(2, cause.mode);
      add.bind(3, cause.fault);
      add.bind(4, cause.words);
      add.bind(5, cause.chance);
      add.exec();
    }
    Statement count = file_->ask(
        "INSERT INTO mode_count SELECT installation, mode, sum(chance), 1 FROM cause JOIN "
        "isolation ON isolation.id = cause.isolation WHERE isolation.id = ? GROUP BY mode "
        "ON CONFLICT (installation, mode) DO UPDATE SET faults = faults + excluded.faults, "
        "cases = cases + 1");
    count.bind(1, one);
    count.exec();
    for (const std::string& words : end.repairs) {
      Statement add = file_->ask("INSERT INTO repair VALUES (?, ?)");
      add.bind(1, one);
      add.bind(2, words);
      add.exec();
    }
    for (const PartUsed& part : end.parts) {
      Statement add = file_->ask("INSERT INTO part_used VALUES (?, ?, ?, ?)");
      add.bind(1, one);
      add.bind(2, part.kind);
      add.bind(3, part.name);
      add.bind(4, part.instead_of);
      add.exec();
    }
    for (const PartThrownOut& part : end.thrown_out) {
      Statement add = file_->ask("INSERT INTO part_thrown_out VALUES (?, ?, ?)");
      add.bind(1, one);
      add.bind(2, part.kind);
      add.bind(3, part.name);
      add.exec();
    }
    return true;
  });
}

Result<guide::CaseFile> Record::events_of(Number one) const {
  return file_->read<guide::CaseFile>([&]() -> Result<guide::CaseFile> {
    Statement head = file_->ask(
        "SELECT model, route, complaint, complaint_drop_db, listener, aim, days_since_pass FROM "
        "isolation WHERE id = ?");
    head.bind(1, one);
    if (!head.executeStep()) {
      return tl::unexpected(Problems{file_->problem("has no case " + std::to_string(one),
                                                    "a number that whichlink log lists")});
    }
    const Place place = file_->problem("", "").place;
    guide::CaseFile events;
    events.model = head.getColumn(0).getString();
    events.route = head.getColumn(1).getString();
    events.complaint = report_from(head.getColumn(2), head.getColumn(3));
    events.listener = head.getColumn(4).getString();
    events.aim = plan::aim_of(head.getColumn(5).getString());
    events.days_since_pass = number_of(head.getColumn(6));
    events.route_place = events.complaint_place = events.listener_place = place;
    Statement answers = file_->ask(
        "SELECT move, heard, drop_db FROM answer WHERE isolation = ? AND taken_back IS NULL "
        "ORDER BY id");
    answers.bind(1, one);
    while (answers.executeStep()) {
      events.done.push_back({answers.getColumn(0).getString(),
                             report_from(answers.getColumn(1), answers.getColumn(2)), place});
    }
    return events;
  });
}

Result<std::optional<Number>> Record::last_open_case() const {
  return file_->read<std::optional<Number>>([&]() -> Result<std::optional<Number>> {
    Statement ask = file_->ask("SELECT max(id) FROM isolation WHERE ending = 'open'");
    ask.executeStep();
    if (ask.getColumn(0).isNull()) return std::optional<Number>();
    return std::optional<Number>(ask.getColumn(0).getInt64());
  });
}

Result<std::optional<Number>> Record::last_ended_case(const std::string& installation,
                                                      const std::string& until) const {
  return file_->read<std::optional<Number>>([&]() -> Result<std::optional<Number>> {
    Statement ask = file_->ask(
        "SELECT isolation.id FROM isolation JOIN installation ON installation.id = installation "
        "WHERE name = ? AND ended IS NOT NULL AND substr(opened, 1, 10) <= ? "
        "ORDER BY opened DESC, isolation.id DESC LIMIT 1");
    ask.bind(1, installation);
    ask.bind(2, until);
    if (!ask.executeStep()) return std::optional<Number>();
    return std::optional<Number>(ask.getColumn(0).getInt64());
  });
}

Result<std::vector<CaseHead>> Record::cases(const Filter& filter) const {
  return file_->read<std::vector<CaseHead>>([&]() -> Result<std::vector<CaseHead>> {
    std::string sql = kCaseHead;
    std::vector<std::string> values;
    const auto where = [&](const std::string& condition, const std::string& value) {
      if (value.empty()) return;
      sql += (values.empty() ? "WHERE " : "AND ") + condition + " ";
      values.push_back(value);
    };
    where("name = ?", filter.installation);
    where("route = ?", filter.route);
    where("ending = ?", filter.ending);
    where("opened >= ?", filter.from);
    // A day is the beginning of all of its times.
    where("opened < ? || 'U'", filter.until);
    if (!filter.cause.empty()) {
      where(
          "isolation.id IN (SELECT isolation FROM cause WHERE chance >= .05 AND words LIKE ? "
          "ESCAPE '\\')",
          within(filter.cause));
    }
    sql += "ORDER BY opened DESC, isolation.id DESC";
    if (filter.most > 0) sql += " LIMIT " + std::to_string(filter.most);
    Statement ask = file_->ask(sql.c_str());
    for (std::size_t index = 0; index < values.size(); ++index) {
      ask.bind(static_cast<int>(index) + 1, values[index]);
    }
    std::vector<CaseHead> heads;
    while (ask.executeStep()) heads.push_back(case_head_from(ask));
    return heads;
  });
}

Result<CaseStory> Record::story_of(Number one) const {
  return file_->read<CaseStory>([&]() -> Result<CaseStory> {
    CaseStory story;
    Statement head = file_->ask((std::string(kCaseHead) + "WHERE isolation.id = ?").c_str());
    head.bind(1, one);
    if (!head.executeStep()) {
      return tl::unexpected(Problems{file_->problem("has no case " + std::to_string(one),
                                                    "a number that whichlink log lists")});
    }
    story.head = case_head_from(head);
    story.end.ending = story.head.ending;
    story.end.minutes = story.head.minutes;
    Statement answers = file_->ask(
        "SELECT move, heard, drop_db, at, taken_back IS NOT NULL FROM answer WHERE isolation = ? "
        "ORDER BY id");
    answers.bind(1, one);
    while (answers.executeStep()) {
      story.answers.push_back({answers.getColumn(0).getString(),
                               report_from(answers.getColumn(1), answers.getColumn(2)),
                               answers.getColumn(3).getString(),
                               answers.getColumn(4).getInt() != 0});
    }
    Statement causes = file_->ask(
        "SELECT mode, fault, words, chance FROM cause WHERE isolation = ? ORDER BY chance DESC, "
        "rowid");
    causes.bind(1, one);
    while (causes.executeStep()) {
      story.end.causes.push_back({causes.getColumn(0).getString(), causes.getColumn(1).getString(),
                                  causes.getColumn(2).getString(),
                                  causes.getColumn(3).getDouble()});
    }
    Statement repairs = file_->ask("SELECT words FROM repair WHERE isolation = ? ORDER BY rowid");
    repairs.bind(1, one);
    while (repairs.executeStep()) story.end.repairs.push_back(repairs.getColumn(0).getString());
    Statement parts = file_->ask(
        "SELECT kind, name, instead_of FROM part_used WHERE isolation = ? ORDER BY rowid");
    parts.bind(1, one);
    while (parts.executeStep()) {
      story.end.parts.push_back({parts.getColumn(0).getString(), parts.getColumn(1).getString(),
                                 parts.getColumn(2).getString()});
    }
    Statement thrown =
        file_->ask("SELECT kind, name FROM part_thrown_out WHERE isolation = ? ORDER BY rowid");
    thrown.bind(1, one);
    while (thrown.executeStep()) {
      story.end.thrown_out.push_back(
          {thrown.getColumn(0).getString(), thrown.getColumn(1).getString()});
    }
    return story;
  });
}

Result<std::vector<GonePart>> Record::gone_parts(const std::string& installation) const {
  return file_->read<std::vector<GonePart>>([&]() -> Result<std::vector<GonePart>> {
    Statement ask = file_->ask(
        "SELECT part.name, part.kind, ended, isolation.id, thrown FROM "
        "(SELECT isolation, name, kind, 0 AS thrown FROM part_used UNION ALL "
        "SELECT isolation, name, kind, 1 FROM part_thrown_out) AS part "
        "JOIN isolation ON isolation.id = part.isolation "
        "JOIN installation ON installation.id = isolation.installation "
        "WHERE installation.name = ? ORDER BY isolation.id, thrown, part.name");
    ask.bind(1, installation);
    std::vector<GonePart> gone;
    while (ask.executeStep()) {
      gone.push_back({ask.getColumn(0).getString(), ask.getColumn(1).getString(),
                      ask.getColumn(2).getString(), ask.getColumn(3).getInt64(),
                      ask.getColumn(4).getInt() != 0});
    }
    return gone;
  });
}

}  // namespace whichlink::record
