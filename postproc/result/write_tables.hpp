#pragma once

#include <string>
#include <utility>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// All parts of a state's power, each watt once: the workpiece, the other bodies, coil and circuit.
std::vector<std::pair<std::string, double>> power_parts(const PowerBalance& power);

// Tables for spreadsheets: UTF-8, comma, one header line with units, decimal point, full precision.

/// A field of a table, quoted if the comma-separated form requires it (RFC 4180). Text that a
/// spreadsheet would take for a formula gets an apostrophe in front; numbers are unchanged.
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
