#pragma once

#include <string_view>

namespace cw::fuzz {

/// Aborts when a message for a user is not one or more lines that start with the file's name and
/// hold neither control characters (a terminal would obey them) nor broken UTF-8.
void demand_clean_message(std::string_view message, std::string_view file);

}  // namespace cw::fuzz
