#pragma once

#include <string>

namespace cw {

/// Text for a message: what a terminal would obey (control characters) becomes '?'.
std::string one_line(std::string text);

}  // namespace cw
