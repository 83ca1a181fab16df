#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// What must be said with every result, the header first, numbers of this result filled in.
/// The header and the rows on voltage, implants, water, hot metal and the limits of the model are
/// always there; others join when the design calls for them (a tank, a supply, a heating run, a
/// radio frequency).
std::vector<Caution> cautions(const Result& result);

/// What stands below every text on a terminal: what the figures are for, and whose rules come
/// first.
std::string standing_line();

/// What a supply's voltage says of the coil's, where no run has computed it.
std::string voltage_rule();

}  // namespace cw
