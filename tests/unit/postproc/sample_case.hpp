#pragma once

#include <cmath>
#include <complex>
#include <map>
#include <utility>

#include "solver/field/field_solution.hpp"
#include "solver/outcome/result.hpp"

namespace cw::sample {

/// Right triangles over 0 < r < 16 mm, -14 < z < 14 mm, edges 1 mm: a rod of 5 mm radius and 20 mm
/// length in a coil of two square turns, 9 to 11 mm from the axis.
inline RegionId region_at(double r, double z) {
  if (r < 5e-3 && std::abs(z) < 10e-3) return 1;
  if (r > 9e-3 && r < 11e-3 && z > -6e-3 && z < -4e-3) return 2;
  if (r > 9e-3 && r < 11e-3 && z > 4e-3 && z < 6e-3) return 3;
  return 0;
}

inline Mesh mesh() {
  constexpr int across = 16, up = 28, half_up = up / 2;
  constexpr double step = 1e-3;
  Mesh m;
  m.region_name = {"air", "workpiece", "turn.1", "turn.2"};
  const auto corner = [](int i, int j) { return j * (across + 1) + i; };
  for (int j = 0; j <= up; ++j) {
    for (int i = 0; i <= across; ++i) m.nodes.push_back({i * step, (j - half_up) * step});
  }
  m.vertices = m.nodes.size();
  std::map<std::pair<int, int>, int> middles;
  const auto middle = [&](int a, int b) {
    const auto [at, fresh] =
        middles.try_emplace(std::minmax(a, b), static_cast<int>(m.nodes.size()));
    if (fresh)
      m.nodes.push_back(
          0.5 * (m.nodes[static_cast<std::size_t>(a)] + m.nodes[static_cast<std::size_t>(b)]));
    return at->second;
  };
  const auto add = [&](int a, int b, int c, RegionId region) {
    m.triangles.push_back({a, b, c, middle(a, b), middle(b, c), middle(c, a)});
    m.region.push_back(region);
  };
  for (int j = 0; j < up; ++j) {
    for (int i = 0; i < across; ++i) {
      const RegionId region = region_at((i + 0.5) * step, (j - half_up + 0.5) * step);
      add(corner(i, j), corner(i + 1, j), corner(i + 1, j + 1), region);
      add(corner(i, j), corner(i + 1, j + 1), corner(i, j + 1), region);
    }
  }
  return m;
}

constexpr double conductivity = 5e6;
constexpr Frequency frequency{50e3};

/// The given potential (r, z) -> A, with metal in rod and turns that changes nothing about it.
template <class Potential>
FieldSolution field(const Mesh& m, Potential potential) {
  FieldSolution f;
  f.frequency = frequency;
  f.media.resize(m.region_name.size());
  for (std::size_t i = 1; i < f.media.size(); ++i) f.media[i].conductivity = conductivity;
  f.loop_voltage.resize(m.region_name.size());
  f.impressed.resize(m.region_name.size());
  f.potential.resize(static_cast<Eigen::Index>(m.nodes.size()));
  for (std::size_t i = 0; i < m.nodes.size(); ++i) {
    f.potential[static_cast<Eigen::Index>(i)] = potential(m.nodes[i].r, m.nodes[i].z);
  }
  return f;
}

/// A uniform axial flux density [T] rms: A = B r / 2.
inline FieldSolution uniform_field(const Mesh& m, double flux) {
  return field(m, [flux](double r, double) { return std::complex<double>(0.5 * flux * r, 0.0); });
}

/// A plausible result of one fixed-frequency state.
inline Result result() {
  StateResult s;
  s.name = "fixed_frequency";
  s.frequency = frequency;
  s.workpiece_temperature = Temperature::celsius(20.0);
  s.coil.inductance = 1.0 / 3.0 * 1e-6;
  s.coil.resistance = 30e-3;
  s.coil.conductor_resistance = 12e-3;
  s.coil.reflected_resistance = 16e-3;
  s.coil.lead_resistance = 2e-3;
  s.coil.winding_turns = 2.0;
  s.coil.turns = {{10e-3, -5e-3, 1.0, 5.5, 100.0, 60.0}, {10e-3, 5e-3, 1.0, 5.5, 100.0, 60.0}};
  s.drive = {"current", frequency.hertz, 100.0, 11.0};
  s.power.workpiece = 150.0;
  s.power.bodies["sleeve, inner"] = 10.0;
  s.power.coil = 120.0;
  s.power.leads = 20.0;
  s.power.total = 300.0;
  s.power.density["workpiece"] = {1.0, 2e6, 5e7};
  s.efficiency = 0.5;
  s.skin_depth = 1.1e-3;
  s.surface_field_rms = 12e3;
  s.saturation = Saturation{41.7, 0.083e-3, 0.47e-3, 0.853};
  s.energy = 1.6e-3;
  s.accuracy = {1e-3, 2e-3, 1e-4, {{"sleeve, inner", 3e-3}}, 6745, 0, "compared with a finer mesh"};
  Result r;
  r.title = "Bench check";
  r.case_sha256 = std::string(64, 'a');
  r.build = {"0.1.0", "g++ 12", {"Eigen 3.4.0"}};
  r.states = {s};
  r.timing = {0.1, 0.2, 0.4};
  r.warnings = {
      "The workpiece is longer than the coil by a wide margin, so its far end stays cold; this "
      "line is long enough to wrap."};
  r.sources = {{"copper: resistivity", "A handbook, p. 1", "read"}};
  return r;
}

/// The heater of full_result().
inline Heater heater() {
  Heater h;
  h.coil.turns = 7.25;
  h.coil.bore = 0.0291;
  h.coil.pitch = 0.00753;
  h.coil.conductor.section = RoundTube{0.0059, 0.0011};
  h.coil.conductor.material.name = "copper-tube";
  h.coil.leads = Leads{0.121, 0.0207, {}};
  h.coil.coolant.emplace().flow = 8.41e-6;
  h.coil.coolant->inlet = Temperature::celsius(18.5);
  h.workpiece.emplace().material.name = "steel-high-carbon";
  h.workpiece->outline.profile = {
      {0.0, -0.0313}, {0.00705, -0.0313}, {0.00705, 0.0459}, {0.0, 0.0459}};
  h.heat.emplace().target = Temperature::celsius(823.0);
  h.tank.emplace().capacitance = 2.05e-6;
  h.tank->cans = 21;
  h.tank->can_limits = CanLimits{9.13, 147.0, {}, {}};
  PushPullDrive drive;
  drive.supply = 36.3;
  drive.supply_limit = 32.7;
  drive.fuse = 41.0;
  drive.transistor.voltage_limit = 152.0;
  drive.choke.inductance = 155e-6;
  h.drive = drive;
  return h;
}

inline HeatResult full_heat() {
  HeatResult heat;
  heat.ended = "time";
  heat.target = Temperature::celsius(823.0);
  heat.target_at = "coldest";
  heat.time_to_target = 83.5;
  heat.stall = Temperature::celsius(687.0);
  heat.energy = 57.3e3;
  heat.induced = 48.4e3;
  heat.stored = 43.1e3;
  heat.lost = {{"radiation", 3.91e3}};
  heat.spent = {{"coil", 7.78e3}};
  heat.ledger_error = 0.00428;
  heat.interpolation_error = 0.00213;
  heat.mesh_error = 0.00157;
  heat.field_updates = 37;
  heat.events = {{"past the Curie point", 38.3}};
  heat.hardening = HardeningResult{Temperature::celsius(781.0), 71.4, 4.47e-3, 5.91};
  heat.thermometer =
      ThermometerResult{0.87, 0.77, Temperature::celsius(604.0), Temperature::celsius(653.0)};
  heat.stall_by_emissivity = -17.3;
  heat.stall_by_gap = -71.8;
  heat.view = Temperature::celsius(822.0);
  HeatLine line{0.0, 293.0, 293.5, 294.0, 293.3,  294.5, 111e3, 101.0, 31.5, 33.6,
                7.1, 923.0, 104.0, 0.4,   1066.0, 294.6, 0.0,   0.0,   0.7};
  heat.lines.push_back(line);
  line = {83.6, 943.0, 913.0, 872.0, 917.0, 951.0, 118e3,   117.0,  11.6, 11.7,
          23.3, 241.0, 126.0, 91.3,  408.0, 877.0, 4.47e-3, 0.0613, 46.2};
  heat.lines.push_back(line);
  return heat;
}

/// The sample with everything a result may hold, every number unlike the others.
inline Result full_result() {
  Result r = result();
  StateResult& s = r.states[0];
  s.coil = {0.3331e-6, 31.1e-3, 12.2e-3, 16.3e-3, 0.474e-3, 0.291e-6, -5.55e-9,
            0.0466e-6, 2.17e-3, 9.88e-3, 7.25,    0.0173,   0.0647,   {}};
  s.coil.turns = {{17.1e-3, -29.2e-3, 0.906, 5.51, 90.6, 61.3},
                  {17.7e-3, 28.4e-3, 0.907, 5.62, 90.7, 62.4}};
  s.tank = {71.1, 102.0, 143.0, 137.0, 9870.0, 4.44};
  s.supply = {24.2, 31.8, 52.7, 769.0, true};
  s.power.joints = 1.91;
  s.power.capacitors = 6.72;
  s.power.switches = 18.8;
  s.power.chokes = 2.63;
  s.power.total = s.power.sum();
  s.accuracy.nonlinear_iterations = 13;
  r.states.push_back(s);
  r.states[1].name = "past_curie";
  r.states[1].power.total = 211.0;
  r.heater = heater();
  r.demand = DemandResult{
      {Temperature::celsius(21.5), Temperature::celsius(403.0)}, {33.7, 47.6}, {112e3, 98.7e3}};
  r.heat = full_heat();
  r.verdict = JobVerdict{Answer::no, Bottleneck::losses,
                         "No: the temperature settles at 687 degC, 136 K short of 823 degC at the "
                         "coldest place, however long it heats.",
                         "After 180 s, 300 W goes into the work and 280 W is lost from it: at 687 "
                         "degC both are equal.",
                         "most loaded part, at 131 % of its limit: capacitor can"};
  Remedy remedy;
  remedy.steps = {{Knob::turns, 6, 10}};
  remedy.change = "10 turns instead of 6";
  remedy.outcome = "the target after 96.0 s; nearest to its limit, at 81.0 %: supply";
  remedy.reached = true;
  remedy.time_to_target = 96.0;
  remedy.end = Temperature::celsius(823.0);
  r.remedies = {remedy};
  r.limits = {{"capacitor can", "current_rms_A", 9.53, 8.74, 1.09, Verdict::stop, "past_curie",
               "Use more cans."},
              {"tube", "temperature_K", 341.15, {}, {}, Verdict::ok, "past_curie", ""}};
  r.exposure = ExposureResult{
      {0.113, 0.227},    {83.8e-6, 13.4e-6},       0.194, "27 uT", "cold", {83.8e-6, 13.4e-6},
      {41.2e-6, 7.1e-6}, {{"27 uT", 27e-6, 0.194}}};
  return r;
}

}  // namespace cw::sample
