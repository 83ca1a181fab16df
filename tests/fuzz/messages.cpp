#include "tests/fuzz/messages.hpp"

#include <cstdio>
#include <cstdlib>

#include "cases/read/case_file.hpp"

namespace cw::fuzz {

namespace {

[[noreturn]] void fail(const char* why, std::string_view message) {
  std::fprintf(stderr, "%s:\n%.*s\n", why, static_cast<int>(message.size()), message.data());
  std::abort();
}

}  // namespace

void demand_clean_message(std::string_view message, std::string_view file) {
  if (message.empty()) fail("an empty message", message);
  if (cases::not_text(message)) fail("a message that is no text", message);
  for (std::size_t start = 0; start < message.size();) {
    const std::size_t end = std::min(message.find('\n', start), message.size());
    const std::string_view line = message.substr(start, end - start);
    if (!line.starts_with(file)) fail("a line without its file", message);
    for (const char letter : line)
      if (static_cast<unsigned char>(letter) < 0x20 || letter == 0x7f)
        fail("a control character in a message", message);
    start = end + 1;
  }
}

}  // namespace cw::fuzz
