#include "pocket/page.h"

#include <string_view>

#include "pocket/rates.h"
#include "render/case_words.h"
#include "sheets/html.h"

#ifdef WHICHLINK_POCKET
extern "C" {
// In page_bytes.S: a C array is what an object file holds.
extern const char whichlink_pocket_page_begin
    [];  // NOLINT(cppcoreguidelines-avoid-c-arrays,modernize-avoid-c-arrays)
extern const char whichlink_pocket_page_end
    [];  // NOLINT(cppcoreguidelines-avoid-c-arrays,modernize-avoid-c-arrays)
}
#endif

namespace whichlink::cli {
namespace {

#ifdef WHICHLINK_POCKET
std::string_view assembled_page() {
  return {whichlink_pocket_page_begin,
          static_cast<std::size_t>(whichlink_pocket_page_end - whichlink_pocket_page_begin)};
}
#else
std::string_view assembled_page() {
  return {};
}
#endif

const char* const kTitle = "Find the bad link";  // as in page.html

std::string header(const std::string& installation) {
  return "<header>\n<p class=\"about\">" + sheets::name(installation).markup() + "</p>\n<h1>" +
         sheets::Words(kTitle).markup() + "</h1>\n</header>\n";
}

// What stands there where no script runs.
std::string without_script(const std::vector<std::string>& cautions, const std::string& contact) {
  const std::string call = contact.empty() ? "Call service." : "Call service: " + contact;
  return (sheets::cautions(cautions) +
          sheets::paragraph("This page needs script, and this browser runs none.") +
          sheets::paragraph(call, "do"))
      .markup();
}

// As text within a script element: nothing in it may look like that element's end.
std::string within_script(const Json& json) {
  std::string text = json.dump(-1, ' ', false, Json::error_handler_t::replace);
  for (std::size_t at = text.find('<'); at != std::string::npos; at = text.find('<', at)) {
    text.replace(at, 1, "\\u003c");
  }
  return text;
}

}  // namespace

bool has_pocket_page() {
  return !assembled_page().empty();
}

std::string pocket_page(const PocketPage& about, const moves::Installation& installation) {
  const faults::Rules& rules = installation.rules;
  const std::vector<std::string> cautions = render::caution_words(rules, rules.always);
  const Json data = {{"model", about.model}, {"contact", about.contact},
                     {"cautions", cautions}, {"rates", rates_of(rules)},
                     {"rules", about.rules}, {"installation", about.installation}};
  const std::vector<std::pair<std::string, std::string>> marks = {
      {"<!--header-->", header(installation.name)},
      {"<!--without-->", without_script(cautions, about.contact)},
      {"<!--data-->",
       R"(<script id="data" type="application/json">)" + within_script(data) + "</script>"}};
  // The marks stand in this order, and each is looked for behind the one before: what was put in is
  // never searched.
  const std::string_view page = assembled_page();
  std::string out;
  std::size_t from = 0;
  for (const auto& [mark, piece] : marks) {
    const std::size_t at = page.find(mark, from);
    out += page.substr(from, at - from);
    out += piece;
    from = at + mark.size();
  }
  return out += page.substr(from);
}

}  // namespace whichlink::cli
