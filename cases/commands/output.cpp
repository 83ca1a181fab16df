#include "cases/commands/output.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <sstream>

#include "postproc/text/wrap.hpp"

namespace cw::cases {

namespace {

bool lost = false;

/// Called after a failed write. If the reader has closed the pipe, as `head` does, nothing is lost.
void note_loss() {
  lost = lost || errno != EPIPE;
}

bool written(std::FILE* to, std::string_view text) {
  return std::fwrite(text.data(), 1, text.size(), to) == text.size();
}

/// The character of two or three bytes of UTF-8 at the start of a text, if it controls a terminal:
/// C1 (U+0080 to U+009F), line and paragraph separators, and marks of direction (U+2028 to U+202E,
/// U+2066 to U+2069); else 0.
unsigned obeyed(std::string_view text) {
  const auto byte = [&](std::size_t i) {
    return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U;
  };
  if (byte(0) == 0xC2U && byte(1) >= 0x80U && byte(1) < 0xA0U) return byte(1);
  if (byte(0) != 0xE2U || (byte(1) != 0x80U && byte(1) != 0x81U)) return 0;
  const unsigned code = 0x2000U + (byte(1) - 0x80U) * 0x40U + (byte(2) & 0x3FU);
  const bool turns = (code >= 0x2028U && code <= 0x202EU) || (code >= 0x2066U && code <= 0x2069U);
  return byte(2) >= 0x80U && turns ? code : 0;
}

/// Lines longer than a terminal is wide, wrapped between words; a file or a pipe gets one line for
/// each mistake.
std::string long_lines_wrapped(const std::string& text) {
  constexpr std::size_t columns = 80;
  std::istringstream lines(text);
  std::string out;
  for (std::string line; std::getline(lines, line);)
    out += line.size() > columns ? wrapped(line, {columns, 0, 2}) : line + "\n";
  if (!out.empty() && !text.ends_with('\n')) out.pop_back();
  return out;
}

}  // namespace

std::string visible(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const auto first = static_cast<unsigned char>(text.front());
    const unsigned code = obeyed(text);
    if (code != 0)
      out += fmt::format("\\u{:04x}", code);
    else if ((first < 0x20U && first != '\n' && first != '\t') || first == 0x7FU)
      out += fmt::format("\\x{:02x}", first);
    else
      out += text.front();
    text.remove_prefix(code == 0 ? 1 : code < 0x100U ? 2 : 3);
  }
  return out;
}

void say(std::string_view text) {
  hand_over(visible(text));
}

bool colours_wanted() {
  const char* refused = std::getenv("NO_COLOR");
  const char* terminal = std::getenv("TERM");
  return (refused == nullptr || *refused == '\0') && terminal != nullptr &&
         std::string_view(terminal) != "dumb" && ::isatty(STDOUT_FILENO) != 0;
}

// Colours of ECMA-48 (select graphic rendition): 32 green, 33 yellow, 31 red; 1 bold, 0 as before.
void say(std::string_view text, Tone tone) {
  if (tone == Tone::plain || !colours_wanted()) return say(text);
  const int colour = tone == Tone::good ? 32 : tone == Tone::doubtful ? 33 : 31;
  const bool line = text.ends_with('\n');
  if (line) text.remove_suffix(1);
  hand_over(fmt::format("\033[1;{}m{}\033[0m{}", colour, visible(text), line ? "\n" : ""));
}

void hand_over(std::string_view text) {
  if (!written(stdout, text)) note_loss();
}

void tell(std::string_view text) {
  const std::string safe = visible(text);
  draw(::isatty(STDERR_FILENO) == 0 ? safe : long_lines_wrapped(safe));
}

void draw(std::string_view text) {
  static_cast<void>(written(stderr, text));  // there is nowhere left to report a failure
  std::fflush(stderr);
}

bool output_failed() {
  if (std::fflush(stdout) != 0) note_loss();
  return lost;
}

void claim_standard_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
    if (::fcntl(stream, F_GETFD) < 0)
      // Standard output is opened for reading only, so that writing to it fails and counts as lost.
      ::open("/dev/null", stream == STDERR_FILENO ? O_WRONLY : O_RDONLY);
}

}  // namespace cw::cases
