#include "flat/pomdp_file.h"

#include <algorithm>
#include <cctype>
#include <set>
#include <sstream>

namespace whichlink::testing {
namespace {

const std::set<std::string> kReserved = {
    "discount", "values",  "states",   "actions", "observations", "start", "T",       "O",
    "R",        "uniform", "identity", "reward",  "cost",         "reset", "include", "exclude"};

bool is_name(const std::string& token) {
  if (token.empty() || std::isalpha(static_cast<unsigned char>(token[0])) == 0) return false;
  return kReserved.count(token) == 0 && std::all_of(token.begin(), token.end(), [](char letter) {
           return std::isalnum(static_cast<unsigned char>(letter)) != 0 || letter == '_' ||
                  letter == '-';
         });
}

// At least one digit before and one after the point.
bool is_number(const std::string& token) {
  const std::size_t first = token[0] == '-' ? 1 : 0;
  const std::size_t point = token.find('.');
  if (point == std::string::npos || point == first || point + 1 == token.size()) return false;
  for (std::size_t index = first; index < token.size(); ++index) {
    if (index != point && std::isdigit(static_cast<unsigned char>(token[index])) == 0) return false;
  }
  return true;
}

class Reader {
 public:
  explicit Reader(const std::string& text) : stream_(text) {}

  PomdpFile read() {
    for (std::string line; std::getline(stream_, line);) {
      const std::size_t hash = line.find('#');
      if (hash != std::string::npos) remember(line.substr(hash + 1));
      std::istringstream words(line.substr(0, hash));
      tokens_.clear();
      for (std::string token; words >> token;) tokens_.push_back(token);
      if (!tokens_.empty()) take(line);
    }
    if (!sized_) complain("no numbers");
    return std::move(file_);
  }

 private:
  void complain(const std::string& what) { file_.complaints.push_back(what); }

  void remember(const std::string& comment) {
    const std::size_t sign = comment.find(" = ");
    if (sign == std::string::npos || comment[0] != ' ') return;
    file_.meaning[comment.substr(1, sign - 1)] = comment.substr(sign + 3);
  }

  void take(const std::string& line) {
    const std::string head = tokens_[0];
    if (head == "discount:") {
      file_.discount = tokens_.size() == 2 ? number(tokens_[1]) : -1;
    } else if (head == "values:") {
      file_.values = tokens_.size() == 2 ? tokens_[1] : "";
    } else if (head == "states:") {
      names(file_.states);
    } else if (head == "actions:") {
      names(file_.actions);
    } else if (head == "observations:") {
      names(file_.observations);
    } else if (head == "start:") {
      for (std::size_t index = 1; index < tokens_.size(); ++index) {
        file_.start.push_back(number(tokens_[index]));
      }
      if (file_.start.size() != file_.states.size()) complain("start of another length");
    } else if (head == "T:" || head == "O:" || head == "R:") {
      if (!sized_) size();
      numbers(head[0], line);
    } else {
      complain("not understood: " + line);
    }
  }

  void size() {
    sized_ = true;
    const std::size_t actions = file_.actions.size();
    const std::size_t states = file_.states.size();
    file_.next.assign(actions, std::vector<SparseRow>(states));
    file_.reports.assign(actions, std::vector<SparseRow>(states));
    file_.reward.assign(actions, std::vector<double>(states, 0.0));
    for (const auto* names : {&file_.states, &file_.actions, &file_.observations}) {
      auto& places = places_.emplace_back();
      for (const std::string& name : *names) {
        if (!places.emplace(name, places.size()).second) complain("twice: " + name);
      }
    }
  }

  void names(std::vector<std::string>& into) {
    for (std::size_t index = 1; index < tokens_.size(); ++index) {
      if (!is_name(tokens_[index])) complain("no name: " + tokens_[index]);
      into.push_back(tokens_[index]);
    }
  }

  double number(const std::string& token) {
    if (!is_number(token)) complain("no number: " + token);
    return std::stod(token);
  }

  // The places that a name or a wildcard stands for.
  std::vector<std::size_t> places(std::size_t kind, const std::string& token) {
    std::vector<std::size_t> all;
    if (token == "*") {
      for (std::size_t place = 0; place < places_[kind].size(); ++place) all.push_back(place);
      return all;
    }
    const auto found = places_[kind].find(token);
    if (found == places_[kind].end()) {
      complain("unknown name: " + token);
    } else {
      all.push_back(found->second);
    }
    return all;
  }

  // "T: action : state : state number", and the like.
  void numbers(char kind, const std::string& line) {
    const std::size_t fields = kind == 'R' ? 4 : 3;
    bool fine = tokens_.size() == 2 * fields + 1;
    for (std::size_t field = 1; fine && field < fields; ++field) fine = tokens_[2 * field] == ":";
    if (!fine) {
      complain("not understood: " + line);
      return;
    }
    const double value = number(tokens_.back());
    for (const std::size_t action : places(1, tokens_[1])) {
      for (const std::size_t state : places(0, tokens_[3])) {
        if (kind == 'R') {
          if (tokens_[5] != "*" || tokens_[7] != "*") complain("a reward of the end: " + line);
          file_.reward[action][state] = value;
          continue;
        }
        SparseRow& row = kind == 'T' ? file_.next[action][state] : file_.reports[action][state];
        for (const std::size_t to : places(kind == 'T' ? 0 : 2, tokens_[5])) row[to] = value;
      }
    }
  }

  std::istringstream stream_;
  std::vector<std::string> tokens_;
  std::vector<std::map<std::string, std::size_t>> places_;  // of states, actions, observations
  bool sized_ = false;
  PomdpFile file_;
};

}  // namespace

std::size_t PomdpFile::action(const std::string& words) const {
  for (std::size_t index = 0; index < actions.size(); ++index) {
    const auto found = meaning.find(actions[index]);
    if (actions[index] == words || (found != meaning.end() && found->second == words)) return index;
  }
  return actions.size();
}

PomdpFile read_pomdp(const std::string& text) {
  return Reader(text).read();
}

}  // namespace whichlink::testing
