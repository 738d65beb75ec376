#include "sheets/notice_sheet.h"

#include <algorithm>

#include "sheets/case_words.h"
#include "sheets/html.h"
#include "sheets/names.h"

namespace whichlink::sheets {
namespace {

const std::string kNoticeStyle =
    R"css(h1{font-size:clamp(2.6rem,11vw,5.5rem);font-weight:900;text-transform:uppercase;margin:.2em 0}
.out{list-style:none;padding:.3rem .9rem;border:.7rem solid #000;font-size:clamp(1.7rem,6vw,3.2rem);font-weight:bold;line-height:1.2}
.out li{margin:.2em 0}
.large{font-size:clamp(1.2rem,3.4vw,1.7rem)}
.large h2{font-size:1.25em}
@media print{h1{font-size:54pt;margin:0}.out{font-size:32pt}.large{font-size:16pt}.large .blank{margin:.4rem 0}}
)css";

void add_once(std::vector<std::string>& list, const std::string& one) {
  if (std::find(list.begin(), list.end(), one) == list.end()) list.push_back(one);
}

}  // namespace

Notice notice_of(const std::vector<const guide::Case*>& cases) {
  Notice notice;
  notice.installation = cases.front()->setting().installation().name;
  std::vector<std::string> heard;
  for (const guide::Case* one : cases) {
    for (const std::string& route : one->ending(guide::Stage::handed_over).do_not_use) {
      add_once(notice.routes, route);
    }
    add_once(heard, complaint_of(*one));
  }
  for (const std::string& words : heard) notice.heard += (notice.heard.empty() ? "" : "; ") + words;
  for (const chain::Route& route : cases.front()->setting().chain().routes) {
    const auto out = std::find(notice.routes.begin(), notice.routes.end(), route.name);
    if (out == notice.routes.end()) notice.works.push_back(route.name);
  }
  return notice;
}

std::string notice_sheet(const Notice& notice) {
  std::vector<Words> routes;
  for (const std::string& route : notice.routes) routes.push_back(name(route));
  std::vector<Words> works;
  for (const std::string& route : notice.works) works.push_back(name(route));
  Block body = facts({{"Since", said_moment(notice.since)}, {"Heard", notice.heard}});
  body += section(2, "Works meanwhile",
                  works.empty() ? paragraph("Nothing here. Do not test with this equipment.")
                                : list(works, "two"));
  body += section(2, "Who knows",
                  blank("Told") + blank("Service called on") + blank("Taken down by, and when"));
  body +=
      paragraph("This notice comes down when the route has passed its check again, not before.");
  Page around;
  around.title = "Do not use";
  around.about = notice.installation;
  around.date = notice.date;
  around.style = kNoticeStyle;
  return page(around, list(routes, "out") + box("large", body));
}

}  // namespace whichlink::sheets
