#pragma once

#include <string>

#include "postproc/result/designs.hpp"

namespace cw {

/// The best designs ranked, why they lead, and how many others failed and why: text of at most 80
/// columns. `lines`: how many to show.
std::string design_text(const DesignSheet& sheet, std::size_t lines);

/// One sentence for each of the first few: its value, how it compares with its neighbours along
/// every varied key, and how near its nearest limit is.
std::vector<std::string> shortlist_reasons(const DesignSheet& sheet, std::size_t count);

}  // namespace cw
