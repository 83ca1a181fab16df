#pragma once

#include <string>
#include <utility>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// Every watt of a state once: the workpiece, the other bodies, the coil and what lies behind it.
std::vector<std::pair<std::string, double>> power_parts(const PowerBalance& power);

// Tables for spreadsheets: UTF-8, comma, one header line with units, decimal point, full precision.

/// A field of a table, quoted where the comma-separated form asks for it (RFC 4180). Text that
/// a spreadsheet would take for a formula gets an apostrophe in front; numbers stay as they are.
std::string table_field(const std::string& text);

/// tables/turns.csv: one line per state and ring, in winding order.
std::string turns_table(const Result& result);

/// tables/powers.csv: one line per state and part; the parts of a state add up to its line "total".
std::string powers_table(const Result& result);

/// tables/tube.csv: temperature of a dry tube against time, heating up, then cooling down.
std::string tube_table(const StillAirCooling& air);

/// tables/stray.csv: a line for each distance.
std::string stray_table(const ExposureResult& exposure);

}  // namespace cw
