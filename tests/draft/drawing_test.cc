#include <boost/property_tree/ptree.hpp>
#include <boost/property_tree/xml_parser.hpp>
#include <map>
#include <set>
#include <sstream>

#include "render/chain_drawing.h"
#include "support.h"

namespace whichlink::draft {
namespace {

struct Rectangle {
  double left = 0, top = 0, right = 0, bottom = 0;
};

struct Text {
  std::string words;
  Rectangle around;
};

struct Seen {
  double width = 0, height = 0;
  std::vector<Text> texts;
  std::vector<Rectangle> boxes;
};

// Every tag that is opened is closed in its turn: the parser below does not look.
void check_tags(const std::string& svg) {
  std::vector<std::string> open;
  for (std::size_t at = svg.find('<'); at != std::string::npos; at = svg.find('<', at + 1)) {
    const std::size_t end = svg.find('>', at);
    ASSERT_NE(end, std::string::npos);
    const std::string tag = svg.substr(at + 1, end - at - 1);
    EXPECT_EQ(tag.find('<'), std::string::npos) << tag;
    if (tag.front() == '/') {
      ASSERT_FALSE(open.empty());
      EXPECT_EQ(tag.substr(1), open.back());
      open.pop_back();
    } else if (tag.back() != '/') {
      open.push_back(tag.substr(0, tag.find(' ')));
    }
  }
  EXPECT_TRUE(open.empty());
}

// A letter of a typewriter face is .602 of its size wide, .78 above its line and .24 below it; a
// character of three bytes or more from 0xE1 on takes two.
constexpr double kLetter = .602;
constexpr double kAbove = .78;
constexpr double kBelow = .24;

Seen seen_in(const std::string& svg) {
  check_tags(svg);
  boost::property_tree::ptree tree;
  std::istringstream stream(svg);
  boost::property_tree::read_xml(stream, tree);
  Seen seen;
  const auto& root = tree.get_child("svg");
  seen.width = root.get<double>("<xmlattr>.width");
  seen.height = root.get<double>("<xmlattr>.height");
  for (const auto& [tag, node] : root) {
    const auto number = [&node = node](const char* name) {
      return node.get<double>(std::string("<xmlattr>.") + name);
    };
    if (tag == "text") {
      const std::string words = node.data();
      double columns = 0;
      for (const char letter : words) {
        const auto byte = static_cast<unsigned char>(letter);
        if ((byte & 0xC0U) != 0x80U) columns += byte >= 0xE1U ? 2 : 1;
      }
      const double size = number("font-size");
      seen.texts.push_back({words,
                            {number("x"), number("y") - kAbove * size,
                             number("x") + columns * size * kLetter, number("y") + kBelow * size}});
    } else if (tag == "rect" && node.get<std::string>("<xmlattr>.width") != "100%") {
      seen.boxes.push_back({number("x"), number("y"), number("x") + number("width"),
                            number("y") + number("height")});
    }
  }
  return seen;
}

bool meet(const Rectangle& a, const Rectangle& b) {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
bool is_inside(const Rectangle& a, const Rectangle& b) {
  return a.left >= b.left && a.right <= b.right && a.top >= b.top && a.bottom <= b.bottom;
}

// No text lies on another, leaves the picture, or crosses the edge of a box.
void check_places(const Seen& seen) {
  const Rectangle whole{0, 0, seen.width, seen.height};
  for (std::size_t one = 0; one < seen.texts.size(); ++one) {
    const Text& text = seen.texts[one];
    EXPECT_TRUE(is_inside(text.around, whole)) << text.words;
    for (std::size_t other = one + 1; other < seen.texts.size(); ++other) {
      EXPECT_FALSE(meet(text.around, seen.texts[other].around))
          << text.words << " / " << seen.texts[other].words;
    }
    for (const Rectangle& box : seen.boxes) {
      EXPECT_TRUE(!meet(text.around, box) || is_inside(text.around, box)) << text.words;
    }
  }
  for (std::size_t one = 0; one < seen.boxes.size(); ++one) {
    EXPECT_TRUE(is_inside(seen.boxes[one], whole));
    for (std::size_t other = one + 1; other < seen.boxes.size(); ++other) {
      const Rectangle& a = seen.boxes[one];
      const Rectangle& b = seen.boxes[other];
      EXPECT_TRUE(!meet(a, b) || is_inside(a, b) || is_inside(b, a));
    }
  }
}

std::string without_blanks(std::string text) {
  std::erase(text, ' ');
  return text;
}

// Every name of the chain can be read, though it may be broken into lines.
void check_names(const Seen& seen, const chain::Chain& chain) {
  std::string all;
  for (const Text& text : seen.texts) all += without_blanks(text.words);
  for (const chain::Route& route : chain.routes) {
    EXPECT_NE(all.find(without_blanks(route.name)), std::string::npos) << route.name;
  }
  for (const chain::Part& part : chain.parts) {
    if (part.spare) continue;
    EXPECT_NE(all.find(without_blanks(part.name)), std::string::npos) << part.name;
  }
  for (const chain::Place& place : chain.places) {
    EXPECT_NE(all.find(without_blanks(place.name)), std::string::npos) << place.name;
  }
}

TEST(Drawing, EveryShippedInstallationIsDrawnWithAllNamesAndNoneOnAnother) {
  for (const char* model : {"two-room-booth", "single-room", "screening-set", "small-stage"}) {
    SCOPED_TRACE(model);
    const moves::Installation installation = shipped(model);
    const moves::Setting setting(installation, 7);
    const Seen seen = seen_in(render::chain_svg(setting));
    EXPECT_GT(seen.boxes.size(), installation.chain.parts.size() / 2);
    check_places(seen);
    check_names(seen, installation.chain);
  }
}

TEST(Drawing, RandomInstallationsWithStrangeNamesToo) {
  for (const char* name : {"hearing", "stage-sound"}) {
    const faults::Rules rules = rules_named(name);
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
      SCOPED_TRACE(seed);
      Random random(seed);
      const moves::Installation installation =
          loaded(to_text(draft_from(rules, random_form(rules, random), nullptr), "x"), rules);
      const moves::Setting setting(installation, 7);
      const Seen seen = seen_in(render::chain_svg(setting));
      check_places(seen);
      check_names(seen, installation.chain);
    }
  }
}

TEST(Drawing, LongAndWideNamesAreBrokenNotCut) {
  const faults::Rules rules = rules_named("hearing");
  const Form form = answered(rules, {{"name", std::string(150, 'W') + " <&> \"" + "試聴室"},
                                     {"places", "apart"},
                                     {"place desk", std::string(59, 'M') + "<"},
                                     {"place seat", "試聴室試聴室試聴室試聴室試聴室試聴室試聴室試"},
                                     {"kinds", "all"}});
  moves::Installation installation = loaded(to_text(draft_from(rules, form, nullptr), "x"), rules);
  for (const PartId part : installation.chain.parts.ids()) {
    installation.chain.parts[part].name =
        part.value % 2 == 0 ? std::string(60, 'W') : "部品部品部品部品部品 " + std::string(30, 'i');
  }
  const moves::Setting setting(installation, 7);
  const Seen seen = seen_in(render::chain_svg(setting));
  check_places(seen);
  check_names(seen, installation.chain);
}

TEST(Drawing, NothingYetIsDrawnAsNothingYet) {
  moves::Installation nothing;
  nothing.name = "Empty";
  nothing.rules = rules_named("hearing");
  const moves::Setting setting(nothing, 7);
  const Seen seen = seen_in(render::chain_svg(setting));
  check_places(seen);
  EXPECT_EQ(seen.boxes.size(), 0U);
  EXPECT_EQ(seen.texts.size(), 5U);  // the name, "No route yet." and the legend
}

// A joint of each kind is drawn as the chain has it, none by its colour alone.
TEST(Drawing, EachKindOfJointHasItsLine) {
  const moves::Installation installation = shipped("single-room");
  const moves::Setting setting(installation, 7);
  const chain::Chain& chain = installation.chain;
  std::map<render::JointLook, std::size_t> expected;
  for (const RouteId route : chain.routes.ids()) {
    const auto path = setting.tracer().trace(route, chain.home).path.conductors;
    for (std::size_t index = 1; index < path.size(); ++index) {
      const ElementId a = chain.conductors[path[index - 1]].element;
      const ElementId b = chain.conductors[path[index]].element;
      if (chain.elements[a].part == chain.elements[b].part) continue;
      ++expected[render::joint_between(chain, a, b)];
    }
  }
  EXPECT_EQ(expected[render::JointLook::switched], 3U);
  EXPECT_EQ(expected[render::JointLook::plugged], 7U);
  EXPECT_EQ(expected[render::JointLook::fixed], 4U);
  const std::string svg = render::chain_svg(setting);
  const auto count = [&](const std::string& text) {
    std::size_t found = 0;
    for (auto at = svg.find(text); at != std::string::npos; at = svg.find(text, at + 1)) ++found;
    return found;
  };
  // And one of each in the legend.
  EXPECT_EQ(count("stroke-dasharray"), 4U);
  EXPECT_EQ(count("stroke-width=\"5\""), 8U);
  EXPECT_EQ(count("<polyline"), 4U + 2 * 8U + 5U);
}

}  // namespace
}  // namespace whichlink::draft
