#include "materials/one_line.hpp"

#include <algorithm>
#include <cstdint>
#include <string_view>

namespace cw {

namespace {

struct Letter {
  std::uint32_t code = 0;
  std::size_t length = 0;  ///< bytes; 0 if this is not a UTF-8 character (RFC 3629, section 4)
};

Letter first_letter(std::string_view text) {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
  };
  const unsigned lead = byte(0);
  if (lead < 0x80U) return {lead, 1};
  const std::size_t length = lead >= 0xF0U ? 4 : lead >= 0xE0U ? 3 : 2;
  if (lead < 0xC2U || lead > 0xF4U) return {};
  std::uint32_t code = lead & (0xFFU >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U) return {};
    code = code << 6U | (byte(i) & 0x3FU);
  }
  const bool too_long = (length == 3 && code < 0x800) || (length == 4 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  return too_long || surrogate || code > 0x10FFFF ? Letter{} : Letter{code, length};
}

bool obeyed(std::uint32_t code) {
  return code < 0x20 || (code >= 0x7F && code <= 0x9F) || (code >= 0x2028 && code <= 0x202E) ||
         (code >= 0x2066 && code <= 0x2069);
}

}  // namespace

std::string one_line(const std::string& text) {
  std::string line;
  for (std::string_view left = text; !left.empty();) {
    const Letter letter = first_letter(left);
    if (letter.length == 0 || obeyed(letter.code))
      line += '?';
    else
      line += left.substr(0, letter.length);
    left.remove_prefix(std::max<std::size_t>(letter.length, 1));
  }
  return line;
}

}  // namespace cw
