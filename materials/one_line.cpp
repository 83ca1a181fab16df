#include "materials/one_line.hpp"

#include <algorithm>

namespace cw {

std::string one_line(std::string text) {
  std::ranges::replace_if(
      text, [](unsigned char c) { return c < 0x20 || c == 0x7F; }, '?');
  return text;
}

}  // namespace cw
