#include "cases/run/case_design.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cases/winding.hpp"

namespace cw::cases {

namespace {

ConductorDesign conductor_design(const Conductor& conductor) {
  ConductorDesign d;
  d.material = conductor.material.name;
  d.radial = conductor.radial_size();
  d.axial = conductor.axial_size();
  if (const auto* tube = std::get_if<RoundTube>(&conductor.section)) {
    d.kind = "tube";
    d.wall = tube->wall;
  } else if (std::holds_alternative<RoundWire>(conductor.section)) {
    d.kind = "wire";
  } else if (const auto* bar = std::get_if<RectangularBar>(&conductor.section)) {
    d.kind = "bar";
    d.wall = bar->wall;
  } else {
    d.kind = "strands";
    d.strands = std::get<StrandBundle>(conductor.section).strands;
  }
  return d;
}

/// Along the middle of the conductor: circumference and rise of every turn [m].
double conductor_length(const Coil& coil) {
  const bool rises = coil.shape == CoilShape::helix || coil.shape == CoilShape::cone;
  double length = 0.0;
  for (const RingPlace& ring : ring_places(coil))
    length += ring.weight * std::hypot(2.0 * std::numbers::pi * ring.r, rises ? coil.pitch : 0.0);
  return length;
}

CoilDesign coil_design(const Coil& coil) {
  CoilDesign d;
  switch (coil.shape) {
    case CoilShape::helix:
      d.shape = "helix";
      break;
    case CoilShape::flat:
      d.shape = "flat";
      break;
    case CoilShape::cone:
      d.shape = "cone";
      break;
    case CoilShape::rings:
      d.shape = "rings";
      break;
  }
  d.turns = coil.turns;
  d.bore = coil.bore;
  if (coil.shape == CoilShape::cone) d.bore_end = coil.bore_end;
  d.pitch = coil.pitch;
  d.conductor_length = conductor_length(coil);
  d.conductor = conductor_design(coil.conductor);
  if (coil.leads) {
    d.lead_length = coil.leads->length;
    d.lead_spacing = coil.leads->spacing;
  }
  if (coil.coolant) {
    d.coolant_flow = coil.coolant->flow;
    d.coolant_inlet = coil.coolant->inlet;
  }
  return d;
}

const char* word(TargetAt at) {
  switch (at) {
    case TargetAt::surface:
      return "surface";
    case TargetAt::centre:
      return "centre";
    case TargetAt::mean:
      return "mean";
    case TargetAt::coldest:
      break;
  }
  return "coldest";
}

WorkpieceDesign workpiece_design(const Workpiece& workpiece, const std::optional<Heat>& heat) {
  WorkpieceDesign d;
  d.material = workpiece.material.name;
  const auto& corners = workpiece.outline.profile;
  const auto lower = [](const Corner& a, const Corner& b) { return a.z < b.z; };
  const auto nearer = [](const Corner& a, const Corner& b) { return a.r < b.r; };
  d.bottom = std::min_element(corners.begin(), corners.end(), lower)->z;
  d.top = std::max_element(corners.begin(), corners.end(), lower)->z;
  d.diameter = 2.0 * std::max_element(corners.begin(), corners.end(), nearer)->r;
  if (heat && heat->target) {
    d.target = heat->target;
    d.target_at = word(heat->target_at);
  }
  return d;
}

BankDesign bank_design(const Tank& tank) {
  BankDesign d{tank.capacitance, tank.cans, {}, {}};
  if (tank.can_limits) {
    d.can_current = tank.can_limits->current;
    d.can_voltage = tank.can_limits->voltage;
  }
  return d;
}

SupplyDesign supply_design(const PushPullDrive& drive) {
  SupplyDesign d;
  d.voltage = drive.supply;
  d.limit = drive.supply_limit;
  if (drive.supply_limit)
    d.limit_kind = drive.limit_kind == LimitKind::fold   ? "fold"
                   : drive.limit_kind == LimitKind::trip ? "trip"
                                                         : "hiccup";
  d.fuse = drive.fuse;
  d.switch_voltage = drive.transistor.voltage_limit;
  d.chokes = drive.choke.count;
  d.choke_inductance = drive.choke.inductance;
  return d;
}

}  // namespace

Design case_design(const Case& subject) {
  Design design;
  design.coil = coil_design(subject.coil);
  if (subject.workpiece) design.workpiece = workpiece_design(*subject.workpiece, subject.heat);
  if (subject.tank) design.bank = bank_design(*subject.tank);
  if (const auto* drive = std::get_if<PushPullDrive>(&subject.drive))
    design.supply = supply_design(*drive);
  return design;
}

}  // namespace cw::cases
