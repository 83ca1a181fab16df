#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace cw {

struct Layout {
  std::size_t columns = 80;              ///< longest line, indent included
  std::size_t first = 0, following = 0;  ///< spaces before the first line and the others
};

/// Breaks text at spaces, every line ended by a newline; only a word longer than a line is broken.
/// Counts UTF-8 characters, not bytes.
std::string wrapped(std::string_view text, const Layout& layout);

/// One line of at most this many characters; "..." replaces words that are left out.
std::string cut_line(std::string_view text, std::size_t columns);

/// With a capital first letter.
std::string capitalised(std::string text);

}  // namespace cw
