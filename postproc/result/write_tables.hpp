#pragma once

#include <string>

#include "postproc/result/result.hpp"

namespace cw {

// Tables for spreadsheets: UTF-8, comma, one header line with units, decimal point, full precision.

/// tables/turns.csv: one line per state and ring, in winding order.
std::string turns_table(const Result& result);

/// tables/powers.csv: one line per state and part; the parts of a state add up to its line "total".
std::string powers_table(const Result& result);

/// tables/history.csv: one line per moment of the heating run. Columns that do not apply are left
/// out.
std::string history_table(const HeatResult& heat);

}  // namespace cw
