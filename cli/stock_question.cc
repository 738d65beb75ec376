#include "stock_question.h"

#include <algorithm>
#include <memory>
#include <set>

#include "case_options.h"
#include "load/load.h"
#include "shell.h"

namespace whichlink::cli {
namespace {

constexpr std::size_t kMostCases = 100'000;

/// One installation, with what was found of it.
struct Site {
  moves::Installation installation;
  std::size_t rooms = 1;
  std::vector<history::LearnedRate> learned;
  std::vector<std::string> gone;
  std::unique_ptr<moves::Setting> setting;
  stock::Endings endings;
};

std::vector<stock::Site> sites_of(const StockOptions& options, const stock::StoresFile& file) {
  std::vector<stock::Site> sites;
  for (const std::string& model : options.models) sites.push_back({model, 1, {}});
  sites.insert(sites.end(), file.sites.begin(), file.sites.end());
  // One that is named twice is two rooms, whose cases are played once.
  std::vector<stock::Site> each;
  for (stock::Site& site : sites) {
    const auto same = std::find_if(each.begin(), each.end(), [&](const stock::Site& one) {
      return one.installation == site.installation;
    });
    if (same == each.end()) {
      each.push_back(std::move(site));
    } else {
      same->rooms += site.rooms;
    }
  }
  if (sites.empty()) {
    refuse("--model", "is missing", "an installation, or a --stores file with \"sites\"");
  }
  return each;
}

void check_trade(const stock::Site& asked, const Site& site, const Site& first) {
  const faults::Rules& rules = site.installation.rules;
  const Place place = asked.place.file.empty() ? Place{asked.installation, 0, 0} : asked.place;
  if (!rules.stores) {
    throw BadInput{{{place, "its rules do not say how spares come", "a \"stores\" entry", ""}}};
  }
  if (rules.trade != first.installation.rules.trade) {
    throw BadInput{{{place, "is of another trade: " + rules.trade,
                     "one of " + first.installation.rules.trade, ""}}};
  }
}

// Rates, and parts that are gone, by the record; else as judged.
void read_record(const StockOptions& options, Site& site) {
  if (options.record.file.empty()) {
    site.learned = history::learned_rates(site.installation, {}, 0);
    return;
  }
  const auto record = open_record(options.record.file, record::Access::read);
  site.learned = learned_from(*record, site.installation, options.record.clock()).rates;
  for (const record::GonePart& part : must(record->gone_parts(site.installation.name))) {
    site.gone.push_back(part.name);
  }
  site.installation = history::with_learned(std::move(site.installation), site.learned);
}

stock::EndingOptions ending_options(const StockOptions& options) {
  stock::EndingOptions how;
  how.cases = options.cases;
  how.seed = options.seed;
  how.depth = depth_of(options.think);
  return how;
}

std::vector<std::unique_ptr<Site>> read_sites(const StockOptions& options,
                                              const stock::StoresFile& file) {
  std::vector<std::unique_ptr<Site>> sites;
  for (const stock::Site& asked : sites_of(options, file)) {
    auto site = std::make_unique<Site>();
    site->rooms = asked.rooms;
    site->installation = load_installation(asked.installation);
    check_trade(asked, *site, sites.empty() ? *site : *sites.front());
    read_record(options, *site);
    sites.push_back(std::move(site));
  }
  for (std::size_t index = 0; index < sites.size(); ++index) {
    Site& site = *sites[index];
    site.setting = std::make_unique<moves::Setting>(site.installation, 0);
    site.endings = stock::endings_of(site.installation, ending_options(options), [&](double share) {
      if (!is_terminal_err()) return;
      show_progress((static_cast<double>(index) + share) / static_cast<double>(sites.size()));
    });
  }
  if (is_terminal_err()) end_progress();
  return sites;
}

}  // namespace

void add_stock_options(CLI::App& app, StockOptions& options) {
  app.add_option("--model", options.models,
                 "An installation: a file, or the name of one that comes with whichlink; as often "
                 "as there are rooms");
  app.add_option("--stores", options.stores,
                 "A file with the rooms that share a cupboard, its prices, and what lies in it");
  app.add_option("--service", options.service,
                 "Wanted chance not to run out (default: what costs least)")
      ->check(CLI::Range(.5, .9999));
  app.add_option("--budget", options.budget, "The best list for so much money")
      ->check(CLI::Range(0.0, 1e9));
  app.add_option("--cases", options.cases, "How many cases to play for each installation (200)")
      ->check(CLI::Range(std::size_t{1}, kMostCases));
  app.add_option("--seed", options.seed, "Of the cases (1)");
  add_think_option(app, options.think);
  add_rates_option(app, options.record);
}

StockFound stock_found(const StockOptions& options, bool wants_curve) {
  stock::Question question;
  if (!options.stores.empty()) question.file = must(load::stores_file(options.stores));
  const auto sites = read_sites(options, question.file);
  render::StockTitle title{question.file.name, question.file.money, !options.record.file.empty(), 0,
                           0};
  std::vector<std::vector<history::LearnedRate>> learned;
  std::set<std::string> seen;  // what a record has of an installation counts once
  for (const auto& site : sites) {
    question.rooms.push_back({site->setting.get(), &site->endings, site->rooms, site->gone});
    if (seen.insert(site->installation.name).second) learned.push_back(site->learned);
    title.cases += site->endings.cases;
    title.rooms += site->rooms;
    if (question.file.name.empty()) {
      title.name += (title.name.empty() ? "" : "; ") + site->installation.name;
    }
  }
  question.rates = stock::pooled_rates(learned);
  question.service = options.service;
  question.budget = options.budget;
  stock::Answer answer = must(stock::answer_to(question));
  if (!answer.curve && (options.budget || wants_curve)) {
    refuse("--budget", "cannot be weighed: nobody knows what sessions are lost",
           "installations whose rules have \"use\"");
  }
  return {title, std::move(answer)};
}

}  // namespace whichlink::cli
