#include "tests/bench/seven_turns.hpp"

#include <cmath>

namespace cw::bench {

namespace {

constexpr double rod_conductivity = 35e6, tube_conductivity = 58e6;  // [S/m]
constexpr int turn_count = 7;

double skin_depth(Frequency f, double conductivity) {
  return std::sqrt(2 / (f.omega() * mu0 * conductivity));
}

}  // namespace

Section SevenTurns::section(Frequency top) {
  Section section;
  section.regions.push_back(
      {"workpiece", rectangle({0, -0.040}, {0.012, 0.040}), skin_depth(top, rod_conductivity)});
  for (int k = 0; k < turn_count; ++k)
    section.regions.push_back({"turn." + std::to_string(k + 1),
                               Disc{{0.025, (k - 3) * 0.009}, 0.003175, 0.002375},
                               skin_depth(top, tube_conductivity)});
  return section;
}

Media SevenTurns::media() {
  Media media(2 + turn_count, Medium{tube_conductivity});
  media[0].conductivity = 0;
  media[rod].conductivity = rod_conductivity;
  return media;
}

TurnSet SevenTurns::turns() {
  TurnSet turns;
  for (int k = 0; k < turn_count; ++k) {
    turns.region.push_back(rod + 1 + k);
    turns.weight.push_back(1.0);
  }
  return turns;
}

double Stopwatch::processor_ms() const {
  return 1e3 * static_cast<double>(std::clock() - processor_) / CLOCKS_PER_SEC;
}

double Stopwatch::wall_ms() const {
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - wall_)
      .count();
}

namespace {

Evaluation run(const Sizing& sizing, Frequency f, bool part_factorisation) {
  Evaluation e;
  const Stopwatch watch;
  const TurnSet turns = SevenTurns::turns();
  const Mesh mesh = generate_mesh(SevenTurns::section(f), sizing);
  e.mesh = watch.processor_ms();
  EddySystem system(mesh, SevenTurns::media());
  e.assembly = watch.processor_ms() - e.mesh;
  const TurnResponse response = solve_turns(system, turns, f);
  const SeriesCoil coil = connect_in_series(system, turns, response);
  e.solution = watch.processor_ms() - e.mesh - e.assembly;
  const Stopwatch after;
  const std::vector<double> loss = region_losses(mesh, coil.field);
  e.losses = after.processor_ms();
  e.whole = watch.processor_ms();
  e.unknowns = system.unknowns();
  e.resistance = coil.impedance.real();
  e.inductance = coil.impedance.imag() / f.omega();
  e.rod_power = loss[SevenTurns::rod];
  if (!part_factorisation) return e;
  const Stopwatch alone;
  system.factorise(f);
  e.factorisation = alone.processor_ms();
  e.solution -= e.factorisation;
  return e;
}

}  // namespace

Evaluation evaluate(const Sizing& sizing, Frequency f) {
  return run(sizing, f, false);
}

Evaluation evaluate_by_stages(const Sizing& sizing, Frequency f) {
  return run(sizing, f, true);
}

}  // namespace cw::bench
