// A heater described and run by a program of its own, without a case file: its cold state, and the
// part that is nearest to its limit.
#include <cstdio>

#include "materials/library.hpp"
#include "solver/run/run_heater.hpp"

int main() {
  cw::Heater heater;
  heater.coil.turns = 7;
  heater.coil.bore = 30e-3;  // [m], clear
  heater.coil.pitch = 8e-3;  // [m]
  heater.coil.conductor = {cw::RoundTube{6e-3, 1e-3}, cw::find_material("copper-tube")};
  heater.workpiece.emplace().material = cw::find_material("steel-medium-carbon");
  heater.workpiece->outline.profile = {{0, -40e-3}, {8e-3, -40e-3}, {8e-3, 40e-3}, {0, 40e-3}};
  heater.tank.emplace().capacitance = 1.5e-6;  // [F]
  heater.tank->cans = 15;
  heater.tank->can_limits = cw::CanLimits{.current = 9.0, .voltage = 250.0};
  cw::PushPullDrive drive;
  drive.supply = 24.0;  // [V]
  drive.choke.inductance = 150e-6;
  heater.drive = drive;

  const cw::Run run = cw::run_heater(heater, {.effort = cw::Effort::fast});
  for (const cw::StateResult& state : run.result.states)
    std::printf("%-12s %6.1f kHz %6.1f A %7.1f W into the work\n", state.name.c_str(),
                state.frequency.hertz / 1e3, state.drive.current_rms,
                state.power.workpiece.value_or(0.0));
  const cw::LimitResult& nearest = run.result.limits.front();
  std::printf("nearest to its limit: %s, %s\n", nearest.part.c_str(), nearest.quantity.c_str());
  return run.result.states.size() >= 2 ? 0 : 1;
}
