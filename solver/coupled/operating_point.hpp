#pragma once

#include <optional>

#include "solver/circuit/solve_tank.hpp"
#include "solver/coupled/loaded_coil.hpp"

namespace cw {

/// Tank, drive and field together at one supply voltage and one temperature.
struct OperatingPoint {
  TankSolution tank;
  /// The loaded coil at the frequency and current of `tank.running`, or of `tank.demand` if the
  /// supply stopped; empty if the tank does not ring.
  std::optional<LoadedCoil> coil;
};

/// Solves  V -> I -> H -> mu -> Z -> f -> I  at fixed supply voltage. `bodies` are the saturating
/// ones (may be empty). `start`: the local model of a state like this one. Throws SolveError.
OperatingPoint solve_operating_point(EddySystem& system, const Winding& winding,
                                     const std::vector<SaturatingRegion>& bodies,
                                     const TankCircuit& circuit, const LocalCoil& start);

}  // namespace cw
