// Whole guided cases through the real program: a hidden fault is planted, a simulated room answers
// what the program asks for, and the program is run with the answers so far until it ends the case.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>

#include "guide/support.h"
#include "moves/standing.h"
#include "render/text.h"
#include "simulate/room.h"

namespace whichlink::testing {
namespace {

using nlohmann::json;
constexpr std::uint64_t kCases = WHICHLINK_E2E_CASES;
constexpr double kDays = 7;

struct Ran {
  int code = -1;
  std::string out;
};

Ran run(const std::string& arguments) {
  Ran ran;
  const std::string command =
      std::string("LC_ALL=C.UTF-8 '") + WHICHLINK_PROGRAM + "' " + arguments + " 2>&1 </dev/null";
  std::FILE* pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr) return ran;
  std::array<char, 4096> buffer{};
  for (std::size_t count = 0; (count = std::fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    ran.out.append(buffer.data(), count);
  }
  const int status = ::pclose(pipe);
  ran.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return ran;
}

class WholeCases : public ::testing::TestWithParam<std::uint64_t> {
 protected:
  static void SetUpTestSuite() {
    booth_ = new moves::Installation(shipped("two-room-booth"));
    setting_ = new moves::Setting(*booth_, kDays);
  }
  static void TearDownTestSuite() {
    delete setting_;
    delete booth_;
  }
  static moves::Installation* booth_;
  static moves::Setting* setting_;
};
moves::Installation* WholeCases::booth_ = nullptr;
moves::Setting* WholeCases::setting_ = nullptr;

const std::vector<std::string> kTransducers = {"left phone",   "right phone", "left insert",
                                               "right insert", "bone",        "left speaker",
                                               "right speaker"};

RouteId route_named(const chain::Chain& chain, const std::string& name) {
  for (const RouteId route : chain.routes.ids()) {
    if (chain.routes[route].name == name) return route;
  }
  ADD_FAILURE() << name;
  return {};
}

// One fault of the route, drawn by its prior; the unlisted cause is one of them.
FaultId draw_fault(const moves::Setting& setting, RouteId route, Random& random) {
  const auto path = setting.tracer().trace(route, setting.chain().home).path;
  const std::vector<FaultId> faults = setting.faults_on(path, route);
  double total = 0;
  for (const FaultId fault : faults) {
    total += 1 - setting.network().prior[fault.value][belief::kAbsent];
  }
  double left = random.uniform() * total;
  for (const FaultId fault : faults) {
    left -= 1 - setting.network().prior[fault.value][belief::kAbsent];
    if (left < 0) return fault;
  }
  return faults.back();
}

// Every plug that is not at home is on the put-back list, or belongs to a part that was changed for
// good.
void expect_put_back(const moves::Setting& setting, const chain::Patching& real,
                     const json& ending) {
  const chain::Chain& chain = setting.chain();
  std::string listed;
  for (const std::string key : {"put_back", "repairs"}) {
    for (const auto& line : ending[key]) listed += line.get<std::string>() + "\n";
  }
  for (const ElementId plug : chain.elements.ids()) {
    if (real.plug_in[plug] == chain.home.plug_in[plug]) continue;
    const std::string part = chain.parts[chain.elements[plug].part].name;
    EXPECT_NE(listed.find(part), std::string::npos)
        << chain.elements[plug].name << " is left out of:\n"
        << listed;
  }
}

void expect_narrow(const std::string& screens) {
  std::istringstream lines(screens);
  for (std::string line; std::getline(lines, line);) {
    EXPECT_LE(render::columns(line), 80U) << line;
  }
}

TEST_P(WholeCases, EndFoundOrHandedOverWithNothingLeftOut) {
  const std::uint64_t seed = GetParam();
  Random random(seed);
  const std::string route_name = kTransducers[seed % kTransducers.size()];
  const RouteId route = route_named(setting_->chain(), route_name);
  const faults::Signal& signal = setting_->rules().signals[setting_->chain().routes[route].signal];
  const FaultId planted = draw_fault(*setting_, route, random);
  simulate::Truth truth = simulate::nothing_wrong(*setting_);
  truth.states[planted.value] = belief::kShowing;
  simulate::Room room(*setting_, truth, 0, seed * 7919);
  std::size_t complaint = 0;
  for (int listened = 0; complaint == 0 && listened < 1000; ++listened) {
    complaint = room.complain(route);
  }
  ASSERT_NE(complaint, 0U) << setting_->name_of(planted);
  const std::string heard = setting_->rules().senses[signal.sense].outcome_name(complaint);

  const std::filesystem::path answers =
      std::filesystem::temp_directory_path() /
      ("whichlink-e2e-" + std::to_string(::getpid()) + "-" + std::to_string(seed));
  const std::string arguments = "isolate --model two-room-booth --route '" + route_name +
                                "' --heard '" + heard + "' --since-pass 7 --answers '" +
                                answers.string() + "'";
  std::ofstream(answers) << "# " << setting_->name_of(planted) << "\n";
  moves::Standing standing = moves::stand_at_start(*setting_, route);
  json told;
  for (std::size_t step = 0; step <= guide::kMostMoves + 1; ++step) {
    const Ran ran = run(arguments + " --json");
    ASSERT_EQ(ran.code, 0) << ran.out;
    told = json::parse(ran.out);
    if (told.contains("ending")) break;
    const auto move =
        moves::find_move(*setting_, standing, told["next"]["move"].get<std::string>());
    ASSERT_TRUE(move) << told["next"]["move"];
    const std::size_t outcome = room.respond(standing, *move);
    standing = moves::after(*setting_, standing, *move);
    std::ofstream(answers, std::ios::app)
        << setting_->rules().senses[move->sense].outcome_name(outcome) << "\n";
  }
  ASSERT_TRUE(told.contains("ending")) << "no end in sight";
  const json& ending = told["ending"];
  const std::string stage = ending["stage"];
  SCOPED_TRACE(setting_->name_of(planted) + ", " + heard + ": " + stage);
  if (stage != "handed over") {
    EXPECT_EQ(stage, "mended");
    EXPECT_TRUE(room.sound(standing)) << "closed with the fault still in";
  }
  expect_put_back(*setting_, room.truth().real, ending);

  const Ran screens = run(arguments);
  EXPECT_EQ(screens.code, 0);
  expect_narrow(screens.out);
  EXPECT_EQ(screens.out.find('\x1b'), std::string::npos) << "colour where there is no terminal";
  std::filesystem::remove(answers);
}

INSTANTIATE_TEST_SUITE_P(TwoRoomBooth, WholeCases, ::testing::Range<std::uint64_t>(1, kCases + 1));

}  // namespace
}  // namespace whichlink::testing
