#pragma once

#include <filesystem>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include "cases/case.hpp"

namespace cw::cases {

/// A case file that cannot be used. Every mistake is one line `file:line:column: key: found ...;
/// allowed: ...; write ...`, in the order of the file; what() is all of them.
class CaseError : public std::runtime_error {
 public:
  explicit CaseError(std::vector<std::string> messages);
  [[nodiscard]] const std::vector<std::string>& messages() const { return messages_; }

 private:
  std::vector<std::string> messages_;
};

/// A value to put in the place of the one in the file: key "coil.pitch" (a body by number or name:
/// "body.cup.length"), value as it would stand there, without quotes: "7.5 mm", "8".
struct Change {
  std::string key, value;
};

/// The bytes of a case file; a stream gives them once only. Throws CaseError.
std::string case_bytes(const std::filesystem::path& file);

/// Reads a case file: TOML, UTF-8, at most 1 MB. Throws CaseError with every mistake in it.
/// Says nothing on whether the case is physically sensible: see check_case().
Case read_case(const std::filesystem::path& file);

/// The same with some values changed, as a sweep does.
Case read_case(const std::filesystem::path& file, std::span<const Change> changes);

/// The same for text that stands in no file; `file` is the name in messages and the base of
/// material paths.
Case read_case_text(std::string_view text, const std::filesystem::path& file,
                    std::span<const Change> changes = {});

}  // namespace cw::cases

namespace cw {
using cases::CaseError;
using cases::Change;
using cases::read_case;
using cases::read_case_text;
}  // namespace cw
