#pragma once

#include <optional>

#include "solver/run/heating.hpp"

namespace cw {

/// Changes of the temperature at which heating stops.
struct StallSensitivity {
  std::optional<double> by_emissivity;  ///< with an emissivity of the workpiece 0.1 higher [K]
  std::optional<double> by_gap;         ///< with 1 mm more between workpiece and coil [K]
};

/// Solves the steady balance again, starting from the one found, with another emissivity and with
/// another coil. The steps are 0.05 in emissivity and half a millimetre all round, scaled up to the
/// stated ones in proportion. The coil changes on the same mesh with its turns moved, if that is
/// possible. Empty if the balance does not converge, and for a coil that is no helix or cone.
StallSensitivity stall_sensitivity(const HeatingSetup& setup, const HeatingRest& rest,
                                   Effort effort, const SolvedState& cold);

}  // namespace cw
