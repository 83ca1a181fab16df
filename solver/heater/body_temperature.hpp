#pragma once

#include "solver/heater/bodies.hpp"

namespace cw {

/// Linear between the points, constant beyond them. `depth` in metres below the outside.
Temperature temperature_at(const TemperatureProfile& profile, double depth);

/// Depth of a point below the outside of a body [m]: the distance to the nearest of its sides that
/// do not face the axis, ends included.
double depth_below_outside(const Outline& outline, Point p);

/// The smallest depth [m] at which the metal becomes magnetic, going inwards; nothing if it nowhere
/// does.
std::optional<double> depth_of_magnetism(const TemperatureProfile& profile,
                                         const Material& material);

}  // namespace cw
