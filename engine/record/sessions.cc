#include "record/file.h"
#include "record/record.h"

namespace whichlink::record {

Result<bool> Record::add_sessions(const std::string& installation,
                                  const std::vector<Session>& sessions, const std::string& at) {
  return file_->write<bool>([&]() -> Result<bool> {
    const Number whose = file_->known_installation(installation, at);
    Statement add = file_->ask(
        "INSERT INTO session (installation, code, day) VALUES (?, ?, ?) "
        "ON CONFLICT (installation, code) DO UPDATE SET day = excluded.day RETURNING id");
    Statement clear = file_->ask("DELETE FROM session_route WHERE session = ?");
    Statement route = file_->ask("INSERT OR IGNORE INTO session_route VALUES (?, ?)");
    for (const Session& session : sessions) {
      add.reset();
      add.bind(1, whose);
      add.bind(2, session.code);
      add.bind(3, session.day);
      add.executeStep();
      const Number number = add.getColumn(0).getInt64();
      add.reset();
      clear.reset();
      clear.bind(1, number);
      clear.exec();
      for (const std::string& name : session.routes) {
        route.reset();
        route.bind(1, number);
        route.bind(2, name);
        route.exec();
      }
    }
    return true;
  });
}

Result<std::vector<Session>> Record::sessions(const std::string& installation,
                                              const std::string& from,
                                              const std::string& until) const {
  return file_->read<std::vector<Session>>([&]() -> Result<std::vector<Session>> {
    Statement ask = file_->ask(
        "SELECT session.id, code, day, route FROM session JOIN installation ON installation.id = "
        "session.installation LEFT JOIN session_route ON session_route.session = session.id WHERE "
        "name = ? AND day >= ? AND day < ? || 'U' ORDER BY day, session.id, route");
    ask.bind(1, installation);
    ask.bind(2, from);
    ask.bind(3, until);
    std::vector<Session> sessions;
    Number last = 0;
    while (ask.executeStep()) {
      const Number number = ask.getColumn(0).getInt64();
      if (sessions.empty() || number != last) {
        sessions.push_back({ask.getColumn(1).getString(), ask.getColumn(2).getString(), {}});
      }
      last = number;
      if (!ask.getColumn(3).isNull()) {
        sessions.back().routes.push_back(ask.getColumn(3).getString());
      }
    }
    return sessions;
  });
}

}  // namespace whichlink::record
