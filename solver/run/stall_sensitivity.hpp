#pragma once

#include <optional>

#include "solver/run/heating.hpp"

namespace cw {

/// How far the temperature at which heating stops moves.
struct StallSensitivity {
  std::optional<double> by_emissivity;  ///< with an emissivity of the workpiece 0.1 higher [K]
  std::optional<double> by_gap;         ///< with 1 mm more between workpiece and coil [K]
};

/// Solves the steady balance again, beginning at the one found, with another emissivity and in
/// another coil: 0.05 up or down, half a millimetre all round, carried on in proportion; on the
/// same mesh, its turns moved, where that serves. Empty where that does not settle, and for a coil
/// that is no helix or cone.
StallSensitivity stall_sensitivity(const HeatingSetup& setup, const HeatingRest& rest,
                                   Effort effort, const SolvedState& cold);

}  // namespace cw
