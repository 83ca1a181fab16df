#include "solver/run/heater_limits.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/limits/limits.hpp"
#include "solver/limits/part_limits.hpp"

namespace cw {

std::vector<LimitResult> heater_limits(const Heater& subject,
                                       const std::vector<SolvedState>& states) {
  std::vector<CircuitState> circuit;
  for (const SolvedState& s : states) {
    if (!s.tank) continue;
    double turn = 0;  // per whole turn: a ring's share over its weight
    for (std::size_t k = 0; k < s.coil.turn_voltage.size(); ++k)
      turn = std::max(
          turn, s.current * std::abs(s.coil.turn_voltage[k]) / s.model.winding.turns.weight[k]);
    circuit.push_back({s.name, &*s.tank, s.current * s.current * s.coil.conductor_resistance,
                       std::numbers::sqrt2 * turn});
  }
  if (circuit.empty()) return {};
  return find_limits(circuit, subject);
}

void add_part_limits(const Heater& subject, const PartsResult& parts,
                     std::vector<LimitResult>& limits) {
  merge_limits(limits, part_limits(parts, subject));
}

}  // namespace cw
