// Feeds every file of the folders named as arguments to a fuzz target, once each, without a fuzzer.
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

int main(int count, char** arguments) {
  std::size_t seen = 0;
  for (int index = 1; index < count; ++index) {
    for (const auto& entry : std::filesystem::recursive_directory_iterator(arguments[index])) {
      if (!entry.is_regular_file()) continue;
      std::ifstream stream(entry.path(), std::ios::binary);
      if (!stream) {
        std::cerr << "cannot read " << entry.path() << '\n';
        return 1;
      }
      const std::string bytes{std::istreambuf_iterator<char>(stream), {}};
      // Said before, so that the last name is the culprit's when the target dies.
      std::cout << entry.path().filename().string() << std::endl;
      LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
      ++seen;
    }
  }
  std::cout << "kept inputs: " << seen << '\n';
  return seen > 0 ? 0 : 1;  // a folder that holds none must not pass for one that was read
}
