#pragma once

#include <string>

namespace cw {

/// Text for a message, on one line: '?' replaces characters that control a terminal, and bytes that
/// are not UTF-8. Such characters are the control characters, U+0080 to U+009F and the marks for
/// line ends and direction (ECMA-48, 5.3; Unicode Standard, 23.1 and 23.2).
std::string one_line(const std::string& text);

}  // namespace cw
