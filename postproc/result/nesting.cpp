#include "postproc/result/nesting.hpp"

#include <algorithm>

namespace cw {

std::size_t json_nesting(std::string_view text) {
  std::size_t depth = 0, deepest = 0;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted && c == '\\')
      ++i;
    else if (c == '"')
      quoted = !quoted;
    else if (!quoted && (c == '[' || c == '{'))
      deepest = std::max(deepest, ++depth);
    else if (!quoted && (c == ']' || c == '}') && depth > 0)
      --depth;
  }
  return deepest;
}

}  // namespace cw
