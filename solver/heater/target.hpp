#pragma once

#include "solver/heater/heater.hpp"

namespace cw {

/// The stretch of the workpiece that has to get hot: as given, else the part inside the coil, else
/// all.
Stretch heated_stretch(const Heater& subject);

/// Temperature above which a steel is all austenite: the case's `harden`, else the Curie point or
/// 780 degC, whichever is higher; none for a material that does not harden.
std::optional<Temperature> austenite_of(const Heater& subject);

}  // namespace cw
