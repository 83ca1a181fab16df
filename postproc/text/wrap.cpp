#include "postproc/text/wrap.hpp"

#include <algorithm>
#include <cassert>

#include <fmt/format.h>

namespace cw {

namespace {

bool begins_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), begins_character));
}

/// Number of bytes of the first `count` characters.
std::size_t bytes_of(std::string_view text, std::size_t count) {
  std::size_t at = 0;
  for (; at < text.size(); ++at) {
    if (begins_character(text[at]) && count-- == 0) return at;
  }
  return text.size();
}

}  // namespace

std::string wrapped(std::string_view text, const Layout& layout) {
  assert(std::max(layout.first, layout.following) + 1 < layout.columns);
  std::string lines;
  std::string line(layout.first, ' ');
  bool empty = true;
  const auto close = [&] {
    lines += line + "\n";
    line.assign(layout.following, ' ');
    empty = true;
  };
  while (!text.empty()) {
    const std::size_t gap = text.find_first_of(" \n\r\t");
    std::string_view word = text.substr(0, gap);
    text.remove_prefix(gap == std::string_view::npos ? text.size() : gap + 1);
    if (word.empty()) continue;
    if (!empty && characters(line) + 1 + characters(word) > layout.columns) close();
    while (characters(line) + (empty ? 0 : 1) + characters(word) > layout.columns) {
      const std::size_t bytes = bytes_of(word, layout.columns - characters(line));
      line += word.substr(0, bytes);
      word.remove_prefix(bytes);
      close();
    }
    if (!empty) line += ' ';
    line += word;
    empty = false;
  }
  if (!empty) lines += line + "\n";
  return lines;
}

std::string cut_line(std::string_view text, std::size_t columns) {
  constexpr std::string_view more = " ...";
  if (characters(text) <= columns) return std::string(text);
  text = text.substr(0, bytes_of(text, columns - more.size() + 1));
  const std::size_t gap = text.find_last_of(' ');
  const bool one_word = gap == std::string_view::npos || text.find_first_not_of(' ') > gap;
  text = one_word ? text.substr(0, bytes_of(text, columns - more.size())) : text.substr(0, gap);
  return fmt::format("{}{}", text, more);
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

}  // namespace cw
