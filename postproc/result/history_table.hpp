#pragma once

#include <string>
#include <vector>

#include "solver/outcome/heat_result.hpp"

namespace cw {

/// tables/history.csv: one line per moment of the heating run. Columns that do not apply are left
/// out.
std::string history_table(const HeatResult& heat);

/// The inverse; `name` is the file in messages. The bodies of a line are in the order of
/// HeatResult::bodies. Unknown columns are ignored. Throws ResultFileError.
std::vector<HeatLine> read_history(const std::string& table, const std::string& name);

}  // namespace cw
