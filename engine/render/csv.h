#pragma once

#include <string>
#include <vector>

namespace whichlink::render {

/// One line of comma-separated values after RFC 4180: quoted where it must be, ended with CR LF.
[[nodiscard]] std::string csv_line(const std::vector<std::string>& fields);

}  // namespace whichlink::render
