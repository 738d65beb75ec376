#pragma once

#include <string>
#include <vector>

#include "draft/form.h"
#include "draft/sketch.h"

namespace whichlink::draft {

/// Parts and joints that one kind of equipment brings; a heading of the written file.
struct Block {
  std::string name;  ///< of the outline; empty for what is kept from an earlier file
  std::string words;
  std::string look;  ///< what to check by eye; may be empty
  Sketch own;        ///< parts, joints and routes only
};

/// What somebody did not know, and what was taken for it.
struct Guess {
  Question question;
  Said said;
};

struct Draft {
  Sketch sketch;               ///< all of it
  std::vector<Block> blocks;   ///< the same parts, joints and routes, each once
  std::vector<Guess> unknown;  ///< in the order of the questions
};

/// @param kept  what an earlier file has besides (see `left_over`); may be null
[[nodiscard]] Draft draft_from(const faults::Rules& rules, const Form& form, const Sketch* kept);

/// The parts, joints and routes of one kind of equipment.
/// @param places  a name for each of the outlines' places
[[nodiscard]] Sketch laid_out(const faults::Rules& rules, const faults::Outline& outline,
                              const std::vector<std::size_t>& ways,
                              const std::vector<std::string>& places);

/// The file's text.
/// @param rules_name  NAME of NAME.yaml
[[nodiscard]] std::string to_text(const Draft& draft, const std::string& rules_name);

/// What the answers must have been for this installation.
struct Inferred {
  Answers answers;
  Sketch kept;  ///< what no answer says: parts, joints, routes
  /// The same in a few words each, "the route bone"; empty where the answers say it all.
  std::vector<std::string> kept_words;
  /// Kinds of equipment that cannot be asked about, since names of theirs are in use for something
  /// else.
  std::vector<std::string> taken;
};
/// @param rules  the trade's, with outlines, as they are in their own file
[[nodiscard]] Inferred inferred_from(const faults::Rules& rules,
                                     const moves::Installation& installation);
/// The same answers, those marked as not known that the file's text lists under "Find out".
/// @param text  of the installation, as to_text once wrote it or somebody has changed it since
[[nodiscard]] Answers marked_as_in(const std::string& text, const faults::Rules& rules,
                                   Answers answers);

}  // namespace whichlink::draft
