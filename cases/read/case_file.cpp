#include "cases/read/case_file.hpp"

#include <cerrno>
#include <cstring>
#include <fstream>

#include <fmt/format.h>

#include "cases/complaint.hpp"

namespace cw::cases {

namespace {

constexpr std::size_t largest = 1'000'000;

/// Length of the UTF-8 sequence at the start of `bytes`, 0 if there is none (RFC 3629, section 4).
std::size_t sequence(std::string_view bytes) {
  const auto byte = [&](std::size_t i) {
    return i < bytes.size() ? static_cast<unsigned char>(bytes[i]) : 0U;
  };
  const auto tail = [&](std::size_t i) { return (byte(i) & 0xC0U) == 0x80U; };
  const unsigned first = byte(0);
  if (first == 0) return 0;
  if (first < 0x80U) return 1;
  if (first >= 0xC2U && first <= 0xDFU) return tail(1) ? 2 : 0;
  if (first >= 0xE0U && first <= 0xEFU) {
    const bool overlong = first == 0xE0U && byte(1) < 0xA0U;
    const bool surrogate = first == 0xEDU && byte(1) > 0x9FU;
    return tail(1) && tail(2) && !overlong && !surrogate ? 3 : 0;
  }
  if (first >= 0xF0U && first <= 0xF4U) {
    const bool overlong = first == 0xF0U && byte(1) < 0x90U;
    const bool beyond = first == 0xF4U && byte(1) > 0x8FU;
    return tail(1) && tail(2) && tail(3) && !overlong && !beyond ? 4 : 0;
  }
  return 0;
}

/// Whether the caller has opened this stream for us: standard input, or a shell's <(command). Any
/// other pipe might have no writer and block for ever.
bool is_given(const std::filesystem::path& file) {
  const std::string path = file.lexically_normal().string();
  return path == "/dev/stdin" || path.starts_with("/dev/fd/") || path.starts_with("/proc/self/fd/");
}

}  // namespace

FileText read_file(const std::filesystem::path& file) {
  std::error_code failure;
  const auto status = std::filesystem::status(file, failure);
  if (!std::filesystem::exists(status))
    return {{}, "found no such file; write the path of a case file"};
  if (std::filesystem::is_directory(status))
    return {{}, "found a directory; write the path of a case file"};
  if (!std::filesystem::is_regular_file(status) && !is_given(file))
    return {{}, "found a pipe or a device; allowed: a file, or /dev/stdin for standard input"};
  errno = 0;
  std::ifstream stream(file, std::ios::binary);
  if (!stream) return {{}, fmt::format("the file cannot be opened: {}", std::strerror(errno))};
  std::string bytes(largest + 1, '\0');
  stream.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  if (stream.bad()) return {{}, "the file cannot be read"};
  bytes.resize(static_cast<std::size_t>(stream.gcount()));
  if (bytes.size() > largest)
    return {{}, "found a file of more than 1 MB; allowed: at most 1 MB; is it a case file?"};
  return {std::move(bytes), {}};
}

std::optional<TextPlace> not_text(std::string_view bytes) {
  TextPlace at{1, 1};
  while (!bytes.empty()) {
    const std::size_t length = sequence(bytes);
    if (length == 0) return at;
    at = bytes[0] == '\n' ? TextPlace{at.line + 1, 1} : TextPlace{at.line, at.column + 1};
    bytes.remove_prefix(length);
  }
  return std::nullopt;
}

Node parse_file(std::string_view text, const std::filesystem::path& file, const char* what) {
  const auto refuse = [&](TextPlace at, const std::string& words) {
    throw LocatedCaseError(file.string(), {{at, "", words}});
  };
  if (const auto at = not_text(text))
    refuse(*at, fmt::format("found a byte that is not UTF-8 text; save the {} as UTF-8", what));
  auto parsed = parse_toml(text);
  if (const auto* error = std::get_if<SyntaxError>(&parsed)) refuse(error->at, error->text);
  return std::get<Node>(std::move(parsed));
}

}  // namespace cw::cases
