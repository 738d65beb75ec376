#include "check_journal.h"

#include "history/check_events.h"
#include "shell.h"

namespace whichlink::cli {

CheckJournal::CheckJournal(std::shared_ptr<record::Record> record, Clock clock,
                           std::optional<record::Number> known,
                           std::vector<record::CheckAnswer> answers)
    : record_(std::move(record)),
      clock_(std::move(clock)),
      number_(known),
      kept_(std::move(answers)) {
  for (record::CheckAnswer& answer : kept_) answer.at.clear();
}

void CheckJournal::open(const routine::Round& round, const std::string& installation) {
  if (number_) return;
  const routine::CheckFile& events = round.events();
  record::CheckHead head;
  head.installation = installation;
  head.list = round.outcome().list;
  head.listener = round.outcome().listener;
  head.model = events.model;
  head.trip_db = events.trip_db;
  number_ = must(record_->begin_check(head, clock_.now()));
}

void CheckJournal::keep(const routine::Round& round, bool ended) {
  std::vector<record::CheckAnswer> now;
  for (const routine::Event& event : round.events().done) {
    now.push_back(history::answer_of(event));
  }
  std::size_t same = 0;
  while (same < now.size() && same < kept_.size() && now[same] == kept_[same]) ++same;
  for (; kept_.size() > same; kept_.pop_back()) must(record_->take_back_check_answer(*number_));
  for (; kept_.size() < now.size(); kept_.push_back(now[kept_.size()])) {
    record::CheckAnswer answer = now[kept_.size()];
    answer.at = clock_.now();
    must(record_->add_check_answer(*number_, answer));
  }
  must(record_->set_results(*number_, history::results_of(round.outcome()),
                            ended ? clock_.now() : ""));
}

}  // namespace whichlink::cli
