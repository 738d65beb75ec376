#include <array>
#include <cerrno>
#include <filesystem>
#include <fstream>
#include <system_error>

#include "load/load.h"
#include "load/rules_name.h"

namespace whichlink::load {
namespace {

tl::unexpected<Problems> unreadable(Place place, const std::string& what) {
  return tl::unexpected(Problems{{std::move(place), what, "a file that can be read", ""}});
}

}  // namespace

Result<std::string> read_file(const std::string& file) {
  const Place whole{file, 0, 0};
  std::error_code error;
  if (std::filesystem::is_directory(file, error)) return unreadable(whole, "this is a folder");
  errno = 0;
  std::ifstream stream(file, std::ios::binary);
  if (!stream) {
    const int number = errno;
    return unreadable(whole, number == ENOENT   ? "there is no such file"
                             : number == EACCES ? "no permission to read it"
                                                : "it cannot be opened");
  }
  std::string text;
  std::array<char, 65536> block{};
  while (stream.read(block.data(), block.size()) || stream.gcount() > 0) {
    text.append(block.data(), static_cast<std::size_t>(stream.gcount()));
    if (text.size() > kLargestFileBytes) {
      return tl::unexpected(
          Problems{{whole, "the file is too large",
                    "at most " + std::to_string(kLargestFileBytes >> 20U) + " MB", ""}});
    }
  }
  if (stream.bad()) return unreadable(whole, "it cannot be read");
  return text;
}

Result<faults::Rules> rules_file(const std::string& file) {
  const auto text = read_file(file);
  if (!text) return tl::unexpected(text.error());
  return rules_from(*text, file);
}

Result<moves::Installation> installation_file(const std::string& file,
                                              const std::string& rules_folder) {
  const auto text = read_file(file);
  if (!text) return tl::unexpected(text.error());
  const auto named = rules_named_in(*text, file);
  if (!named) return tl::unexpected(named.error());
  const std::string rules_file = rules_folder + "/" + named->name + ".yaml";
  const auto rules_text = read_file(rules_file);
  if (!rules_text) {
    return tl::unexpected(Problems{
        {named->place,
         "the rules cannot be read from " + rules_file + ": " + rules_text.error().front().what,
         "the name of a file of rules", ""}});
  }
  const auto rules = rules_from(*rules_text, rules_file);
  if (!rules) return tl::unexpected(rules.error());
  return installation_from(*text, file, *rules);
}

Result<guide::CaseFile> case_file(const std::string& file) {
  const auto text = read_file(file);
  if (!text) return tl::unexpected(text.error());
  return case_from(*text, file);
}

}  // namespace whichlink::load
