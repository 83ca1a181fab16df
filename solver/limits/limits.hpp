#pragma once

#include <string>
#include <vector>

#include "solver/circuit/solve_tank.hpp"
#include "solver/heater/heater.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// One solved state as the limits need it.
struct CircuitState {
  std::string name;
  const TankSolution* tank = nullptr;
  double coil_loss = 0.0;          ///< of the winding [W]
  double turn_voltage_peak = 0.0;  ///< largest of one turn [V]
};

/// A part at or above this fraction of its limit gets `watch` (common practice, no source); advice
/// aims below it.
inline constexpr double watch_from = 0.8;
/// `stop` at or above the limit itself.
Verdict verdict_of(double fraction);

/// Everything that can give out, each at the state in which it is worst: nearest to its limit
/// first, figures without a limit last. Numbers in the advice are computed with the state's local
/// model of the coil, without solving a field. Verdicts: watch from 0.8 of a limit, stop from 1.
/// The supply is judged by the current the load demands, other parts by the actual operating point.
/// A rating that the heater does not give is never invented. The heater has a tank that rings.
std::vector<LimitResult> find_limits(const std::vector<CircuitState>& states, const Heater& heater);

/// Inserts further rows in order: nearest to its limit first, rows without a limit last.
void merge_limits(std::vector<LimitResult>& into, std::vector<LimitResult> further);

}  // namespace cw
