#include <fmt/format.h>

#include <set>

#include "cases/check/findings.hpp"
#include "cases/check/ranges.hpp"
#include "cases/wording.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

using D = Dimension;

double kelvin(const std::optional<Temperature>& t) {
  return t ? t->kelvin : 400.0;
}

std::vector<Range> of_warming(const std::string& path, const std::optional<Warming>& warming) {
  if (!warming) return {};
  return {{path + ".heat_capacity", warming->heat_capacity, 1e-3, 1e5, D::thermal_capacity},
          {path + ".to_air", warming->to_air, 1e-3, 1e3, D::thermal_resistance},
          {path + ".limit", warming->limit.kelvin, 300.0, 800.0, D::temperature}};
}

std::vector<Range> of_core(const ChokeCore& core) {
  const std::string path = "drive.choke.core.";
  return {{path + "outer", core.outer, 5e-3, 0.3, D::length},
          {path + "inner", core.inner, 2e-3, 0.25, D::length},
          {path + "height", core.height, 1e-3, 0.2, D::length},
          {path + "permeability", core.permeability, 1.0, 20e3, D::number},
          {path + "al", core.inductance_factor, 1e-9, 50e-6, D::inductance_per_turn2},
          {path + "saturation", core.saturation, 0.1, 2.5, D::flux_density},
          {path + "bias_80", core.bias_80, 10.0, 1e6, D::field_strength},
          {path + "bias_50", core.bias_50, 10.0, 1e6, D::field_strength},
          {path + "wire", core.wire, 0.1e-3, 10e-3, D::length}};
}

std::vector<Range> of_heat_sink(const HeatSink& sink) {
  const std::string path = "drive.switch.heat_sink.";
  return {{path + "junction_to_case", sink.junction_to_case, 0.01, 20.0, D::thermal_resistance},
          {path + "case_to_sink", sink.case_to_sink, 0.0, 20.0, D::thermal_resistance},
          {path + "sink_to_air", sink.sink_to_air, 0.01, 200.0, D::thermal_resistance},
          {path + "junction_to_air", sink.junction_to_air, 1.0, 1e3, D::thermal_resistance},
          {path + "heat_capacity", sink.heat_capacity, 1e-3, 1e3, D::thermal_capacity},
          {path + "limit", kelvin(sink.junction_limit), 350.0, 600.0, D::temperature}};
}

std::vector<Range> of_path(const std::string& path, const PathConductor& c) {
  return {{path + ".width", c.width, 0.2e-3, 0.5, D::length},
          {path + ".thickness", c.thickness, 5e-6, 0.05, D::length},
          {path + ".length", c.length, 1e-3, 5.0, D::length},
          {path + ".solder", c.solder, 1e-6, 5e-3, D::length},
          {path + ".strap", c.strap, 1e-6, 0.05, D::length},
          {path + ".in_parallel", c.in_parallel, 1, 100, D::number},
          {path + ".rise", c.rise, 1.0, 160.0, D::temperature_difference}};
}

std::vector<Range> of_nearby(const std::string& path, const Nearby& n) {
  return {{path + ".at.0", n.r, 0.0, 5.0, D::length},
          {path + ".at.1", n.z, -5.0, 5.0, D::length},
          {path + ".diameter", n.diameter, 1e-3, 1.0, D::length},
          {path + ".thickness", n.thickness, 0.1e-3, 0.1, D::length},
          {path + ".surface", n.surface, 1e-6, 1.0, D::area}};
}

std::vector<Range> of_commissioning(const Commissioning& c) {
  const PickupLoop loop = c.pickup_loop.value_or(PickupLoop{1, 0.01, 0.1, 0.0});
  const CurrentTransformer ct = c.current_transformer.value_or(CurrentTransformer{1, 1.0});
  const std::string a = "commissioning.pickup_loop.", b = "commissioning.current_transformer.";
  return {{a + "turns", loop.turns, 1, 1000, D::number},
          {a + "diameter", loop.diameter, 1e-3, 0.5, D::length},
          {a + "at.0", loop.r, 0.0, 5.0, D::length},
          {a + "at.1", loop.z, -5.0, 5.0, D::length},
          {b + "turns", ct.turns, 1, 10000, D::number},
          {b + "burden", ct.burden, 1e-3, 1e4, D::resistance}};
}

std::vector<Range> of_rest(const Case& subject) {
  return {{"tolerance.capacitance", subject.tolerance.capacitance, 0.0, 0.5, D::number},
          {"tolerance.gap", subject.tolerance.gap, 0.0, 0.05, D::length},
          {"tolerance.permeability", subject.tolerance.permeability, 1.0, 10.0, D::number},
          {"tolerance.resistivity", subject.tolerance.resistivity, 0.0, 0.5, D::number}};
}

void check_part_sizes(Findings& findings) {
  const Case& subject = findings.subject;
  const DriveParts drive = drive_parts(subject.drive);
  if (drive.choke != nullptr) {
    if (drive.choke->core) check_ranges(findings, of_core(*drive.choke->core));
    check_ranges(findings, of_warming("drive.choke.warming", drive.choke->warming));
  }
  if (drive.transistor != nullptr) {
    check_ranges(findings, of_warming("drive.switch.warming", drive.transistor->warming));
    if (drive.transistor->heat_sink)
      check_ranges(findings, of_heat_sink(*drive.transistor->heat_sink));
  }
  if (drive.supply != nullptr && drive.supply->mains) {
    const Mains& mains = *drive.supply->mains;
    check_ranges(findings,
                 {{"drive.mains.efficiency", mains.efficiency, 0.2, 1.0, D::number},
                  {"drive.mains.price_per_kWh", mains.price_per_kWh, 0.0, 1e3, D::number}});
  }
  if (subject.coil.leads)
    check_ranges(findings, of_warming("coil.leads.warming", subject.coil.leads->warming));
  if (subject.tank) {
    check_ranges(findings, of_warming("tank.can_warming", subject.tank->can_warming));
    for (std::size_t i = 0; i < subject.tank->conductors.size(); ++i)
      check_ranges(findings,
                   of_path(fmt::format("tank.conductor.{}", i), subject.tank->conductors[i]));
  }
  for (std::size_t i = 0; i < subject.nearby.size(); ++i)
    check_ranges(findings, of_nearby(fmt::format("nearby.{}", i), subject.nearby[i]));
  check_ranges(findings, of_commissioning(subject.commissioning));
  check_ranges(findings, of_rest(subject));
}

void check_core(Findings& findings, const ChokeCore& core) {
  if (core.inner >= core.outer)
    findings.error("drive.choke.core.inner",
                   fmt::format("found {} in a ring of {}; allowed: below the outer diameter; are "
                               "they the wrong way round?",
                               mm(core.inner), mm(core.outer)));
  if (core.bias_80 && core.bias_50 && *core.bias_80 >= *core.bias_50)
    findings.error("drive.choke.core.bias_80",
                   "found a field that is not below bias_50; a higher field leaves less "
                   "permeability: are they the wrong way round?");
  if (core.wire >= core.inner)
    findings.error("drive.choke.core.wire",
                   fmt::format("found {} through a hole of {}; allowed: a wire that fits through",
                               mm(core.wire), mm(core.inner)));
}

/// Names must be unique, and objects must lie in air.
void check_nearby(Findings& findings) {
  const Case& subject = findings.subject;
  std::set<std::string> names;
  const CoilExtent coil = extent_of(subject.coil);
  for (std::size_t i = 0; i < subject.nearby.size(); ++i) {
    const Nearby& n = subject.nearby[i];
    const std::string path = fmt::format("nearby.{}", i);
    if (!names.insert(n.name).second)
      findings.error(
          path + ".name",
          fmt::format("found \"{0}\" a second time; write for example \"{0} 2\"", n.name));
    if (n.material.insulator())
      findings.error(
          path + ".material",
          fmt::format("found \"{}\", which carries no current and takes no power; remove this part",
                      n.material.name));
    if (n.r < coil.outer && n.z > coil.low && n.z < coil.high)
      findings.error(path + ".at",
                     fmt::format("found a place inside the coil, which ends at a radius of {}; "
                                 "write a [[body]] for a part in the field",
                                 mm(coil.outer)));
    if (n.diameter && n.thickness && *n.thickness * 2 >= *n.diameter)
      findings.error(path + ".thickness",
                     fmt::format("found {} in a ring of {}; allowed: below half of it; write kind "
                                 "= \"bracket\" for a solid part",
                                 mm(*n.thickness), mm(*n.diameter)));
  }
}

void check_conductors(Findings& findings, const Tank& tank) {
  std::set<std::string> names;
  for (std::size_t i = 0; i < tank.conductors.size(); ++i) {
    const PathConductor& c = tank.conductors[i];
    const std::string path = fmt::format("tank.conductor.{}", i);
    if (!names.insert(c.name).second)
      findings.error(
          path + ".name",
          fmt::format("found \"{0}\" a second time; write for example \"{0} 2\"", c.name));
    if (c.kind == ConductorKind::board && c.thickness > 1e-3)
      findings.error(path + ".thickness",
                     fmt::format("found board copper of {}; allowed: up to 1 mm (1 oz is 35 um); "
                                 "write kind = \"bar\" for a bar, strap for copper laid on top",
                                 mm(c.thickness)));
    if (c.width < c.thickness)
      findings.error(path + ".width",
                     fmt::format("found {} wide and {} thick; allowed: the larger one as width",
                                 mm(c.width), mm(c.thickness)));
  }
}

void check_limits(Findings& findings) {
  const Case& subject = findings.subject;
  const double gap = subject.coil.bore / 2;
  if (subject.tolerance.gap >= gap && gap > 0)
    findings.error("tolerance.gap",
                   fmt::format("found {} on a bore whose radius is {}; write for example \"1 mm\"",
                               mm(subject.tolerance.gap), mm(gap)));
}

}  // namespace

void check_parts(Findings& findings) {
  const std::size_t before = findings.errors.size();
  check_part_sizes(findings);
  if (findings.errors.size() > before) return;  // values out of range are not compared as well
  const Case& subject = findings.subject;
  const Choke* choke = drive_parts(subject.drive).choke;
  if (choke != nullptr && choke->core) check_core(findings, *choke->core);
  if (subject.tank) check_conductors(findings, *subject.tank);
  check_limits(findings);
  if (!subject.nearby.empty()) check_nearby(findings);
}

}  // namespace cw::cases
