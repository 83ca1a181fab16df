#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace cw::faults {

/// A wrong case file and its expected messages.
struct WrongCase {
  std::string name;
  std::string text;                   ///< of the case file
  std::vector<std::string> expected;  ///< `line:column: message`, `warning: ` before warnings
};

/// The wrong cases of the tables `*.txt` of a folder, by name. Each is a change to one of the
/// correct cases `bases/*.toml`, or to none, `nothing`:
///     == bare-number : bench
///     # What is wrong; the first line of the case.
///       length = "60 mm"          a line of the base: changes follow it
///     - bore = "32 mm"            a line of the base to remove
///     + bore = 32                 a new line
///     > 9:1: coil.bore: found ... expected messages, a line each
/// Lines of the base must be in its order; the first identical line counts. Text before the first
/// `==` is a heading. Throws std::runtime_error with file and line.
std::vector<WrongCase> wrong_cases(const std::filesystem::path& folder);

}  // namespace cw::faults
