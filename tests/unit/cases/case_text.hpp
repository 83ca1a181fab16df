#pragma once

#include <string>

namespace cw::cases {

/// A small valid case; the tests change one thing in it.
inline const std::string small_case = R"toml(title = "Small"

[workpiece]
material = "steel-high-carbon"
diameter = "14 mm"
length = "60 mm"

[coil]
turns = 8
bore = "32 mm"
pitch = "7.5 mm"
conductor = { tube = "6 mm", wall = "1 mm" }

[drive]
kind = "current"
frequency = "100 kHz"
rms = "100 A"
)toml";

/// `small_case` with the first occurrence of `from` replaced; a `from` that is not there changes
/// nothing and shows in the test that expects a change.
inline std::string small_case_with(const std::string& from, const std::string& to) {
  std::string text = small_case;
  if (const auto at = text.find(from); at != std::string::npos) text.replace(at, from.size(), to);
  return text;
}

}  // namespace cw::cases
