#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace cw::faults {

/// A wrong case file and what is answered to it.
struct WrongCase {
  std::string name;
  std::string text;                   ///< of the case file
  std::vector<std::string> expected;  ///< `line:column: message`, `warning: ` before warnings
};

/// The wrong cases of the tables `*.txt` of a folder, by name. Each is a change to one of the sound
/// cases `bases/*.toml`, or to none, `nothing`:
///
///     == bare-number : bench
///     # What is wrong; the first line of the case.
///       length = "60 mm"          a line of the base: goes there
///     - bore = "32 mm"            a line of the base that falls away
///     + bore = 32                 a new line, here
///     > 9:1: coil.bore: found ... what is answered, a line each
///
/// Lines of the base come in its order; the first that is the same to the letter counts. What
/// stands before the first `==` is a heading. Throws std::runtime_error with file and line.
std::vector<WrongCase> wrong_cases(const std::filesystem::path& folder);

}  // namespace cw::faults
