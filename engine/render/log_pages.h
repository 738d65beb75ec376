#pragma once

#include <string>
#include <vector>

#include "record/entries.h"
#include "render/json.h"
#include "render/text.h"

/// What a record holds, for people, for spreadsheets (RFC 4180) and for programs.
namespace whichlink::render {

[[nodiscard]] std::string cases_page(const std::vector<record::CaseHead>& heads,
                                     const Style& style);
[[nodiscard]] std::string cases_csv(const std::vector<record::CaseHead>& heads);
[[nodiscard]] Json cases_json(const std::vector<record::CaseHead>& heads);

/// One case as a story: the complaint, what was done and heard, how it ended.
[[nodiscard]] std::string case_story_page(const record::CaseStory& story, const Style& style);
[[nodiscard]] std::string case_story_csv(const record::CaseStory& story);
[[nodiscard]] Json case_story_json(const record::CaseStory& story);

[[nodiscard]] std::string checks_page(const std::vector<record::CheckHead>& heads,
                                      const Style& style);
[[nodiscard]] std::string checks_csv(const std::vector<record::CheckHead>& heads);
[[nodiscard]] Json checks_json(const std::vector<record::CheckHead>& heads);
[[nodiscard]] std::string check_story_page(const record::CheckStory& story, const Style& style);
[[nodiscard]] std::string check_story_csv(const record::CheckStory& story);
[[nodiscard]] Json check_story_json(const record::CheckStory& story);

[[nodiscard]] std::string sessions_page(const std::vector<record::Session>& sessions,
                                        const Style& style);
[[nodiscard]] std::string sessions_csv(const std::vector<record::Session>& sessions);
[[nodiscard]] Json sessions_json(const std::vector<record::Session>& sessions);

}  // namespace whichlink::render
