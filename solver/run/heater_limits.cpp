#include "solver/run/heater_limits.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/limits/limits.hpp"
#include "solver/limits/part_limits.hpp"

namespace cw {

std::vector<LimitResult> heater_limits(const Heater& subject, std::span<const SolvedState> states) {
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

void add_heating_demand(const HeatResult& heat, LimitKind kind, std::vector<LimitResult>& limits) {
  const auto supply = std::ranges::find(limits, "demand_A", &LimitResult::quantity);
  if (supply == limits.end() || !supply->limit) return;
  const double most = greatest_demand(heat);
  if (most <= supply->value) return;
  supply->value = most;
  supply->fraction = most / *supply->limit;
  supply->at_state = "heating";
  const Verdict verdict = verdict_of(*supply->fraction);
  supply->verdict = kind == LimitKind::fold ? std::min(verdict, Verdict::watch) : verdict;
  merge_limits(limits, {});
}

void add_part_limits(const Heater& subject, const PartsResult& parts,
                     std::vector<LimitResult>& limits) {
  merge_limits(limits, part_limits(parts, subject));
}

}  // namespace cw
