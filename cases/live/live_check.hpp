#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "cases/case.hpp"
#include "cases/complaint.hpp"

namespace cw::cases {

/// What `coilwright check` finds in a text.
struct LiveCheck {
  std::optional<Case> subject;                ///< set if it may be solved
  std::vector<Complaint> mistakes, warnings;  /// in the order of the text
};

/// Checks the text of a case that is not saved yet, as if it stood in `file`. In addition it
/// refuses material files outside the folder of `file`, before they are opened: the text comes from
/// a browser.
LiveCheck check_live(const std::string& text, const std::filesystem::path& file);

}  // namespace cw::cases
