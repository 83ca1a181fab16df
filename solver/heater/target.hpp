#pragma once

#include "solver/heater/heater.hpp"

namespace cw {

/// The stretch of the workpiece that matters: as written, else what lies inside the coil, else all.
Stretch heated_stretch(const Heater& subject);

/// Where all of a steel is austenite: the case's `harden`, else the end of its magnetism or 780
/// degC, whichever is more; none for what does not harden.
std::optional<Temperature> austenite_of(const Heater& subject);

}  // namespace cw
