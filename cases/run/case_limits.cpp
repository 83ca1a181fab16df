#include "cases/run/case_limits.hpp"
#include "cases/run/coil_tube.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "postproc/limits/limits.hpp"
#include "postproc/limits/part_limits.hpp"

namespace cw::cases {

namespace {

double perimeter(const Conductor& conductor) {
  if (const auto* bar = std::get_if<RectangularBar>(&conductor.section))
    return 2 * (bar->radial + bar->axial);
  return std::numbers::pi * conductor.radial_size();
}

Ratings ratings_of(const Case& subject) {
  const auto& drive = std::get<PushPullDrive>(subject.drive);
  Ratings r;
  if (subject.tank->can_limits) {
    r.can_current = subject.tank->can_limits->current;
    r.can_voltage = subject.tank->can_limits->voltage;
    r.can_loss = subject.tank->can_limits->loss;
    r.can_reactive_power = subject.tank->can_limits->reactive_power;
  }
  r.switch_voltage = drive.transistor.voltage_limit;
  r.choke_current = drive.choke.saturation;
  r.gate_time = drive.transistor.gate_time;
  r.fuse = drive.fuse;
  const double size = subject.coil.shape == CoilShape::flat ? subject.coil.conductor.radial_size()
                                                            : subject.coil.conductor.axial_size();
  if (subject.coil.turns > 1 && subject.coil.pitch > size) r.turn_gap = subject.coil.pitch - size;
  r.conductor_perimeter = perimeter(subject.coil.conductor);
  return r;
}

}  // namespace

std::vector<LimitResult> case_limits(const Case& subject, const std::vector<SolvedState>& states) {
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
  return find_limits(circuit, tank_circuit(subject), ratings_of(subject));
}

void add_part_limits(const Case& subject, const PartsResult& parts,
                     std::vector<LimitResult>& limits) {
  PartRatings ratings;
  if (const auto* drive = std::get_if<PushPullDrive>(&subject.drive)) {
    if (drive->transistor.heat_sink) ratings.junction = drive->transistor.heat_sink->junction_limit;
    if (drive->choke.core) ratings.core_saturation = drive->choke.core->saturation;
  }
  if (subject.tank)
    for (const PathConductor& c : subject.tank->conductors) ratings.rise.push_back(c.rise);
  merge_limits(limits, part_limits(parts, ratings, surroundings_of(subject)));
}

}  // namespace cw::cases
