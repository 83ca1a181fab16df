#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// The cautions of a result, the header first, with numbers of this result. The header and the rows
/// on voltage, implants, water, hot metal and the limits of the model are always included; others
/// if the design triggers them (a tank, a supply, a heating run, a radio frequency).
std::vector<Caution> cautions(const Result& result);

/// The line below every text on a terminal: what the figures are for, and whose rules come first.
std::string standing_line();

/// The coil voltage to expect from a supply's voltage, for texts without a run.
std::string voltage_rule();

}  // namespace cw
