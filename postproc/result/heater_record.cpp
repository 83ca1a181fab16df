#include "postproc/result/heater_record.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "solver/heater/rings.hpp"

namespace cw {

namespace {

constexpr std::array<std::string_view, 4> shape_words = {"helix", "flat", "cone", "rings"};
constexpr std::array<std::string_view, 4> target_words = {"surface", "centre", "mean", "coldest"};
constexpr std::array<std::string_view, 3> limit_words = {"fold", "trip", "hiccup"};

template <class E, std::size_t N>
std::string word(E value, const std::array<std::string_view, N>& words) {
  return std::string(words[static_cast<std::size_t>(value)]);
}

/// The enumerator of a word; the last one for any other.
template <class E, std::size_t N>
E meant(const std::string& text, const std::array<std::string_view, N>& words) {
  const auto found = std::find(words.begin(), words.end() - 1, text);
  return static_cast<E>(found - words.begin());
}

ConductorRecord record_of(const Conductor& conductor) {
  return {std::string(conductor.kind()), conductor.material.name, conductor.sizes()};
}

Conductor conductor_of(const ConductorRecord& r) {
  Conductor conductor{section_of(r.kind, r.sizes), {}};
  conductor.material.name = r.material;
  return conductor;
}

CoilRecord record_of(const Coil& coil) {
  CoilRecord r;
  r.shape = word(coil.shape, shape_words);
  r.turns = coil.turns;
  r.bore = coil.bore;
  if (coil.shape == CoilShape::cone) r.bore_end = coil.bore_end;
  r.pitch = coil.pitch;
  r.conductor_length = conductor_length(coil);
  r.conductor = record_of(coil.conductor);
  if (coil.leads) {
    r.lead_length = coil.leads->length;
    r.lead_spacing = coil.leads->spacing;
  }
  if (coil.coolant) {
    r.coolant_flow = coil.coolant->flow;
    r.coolant_inlet = coil.coolant->inlet;
  }
  return r;
}

Coil coil_of(const CoilRecord& r) {
  Coil coil;
  coil.shape = meant<CoilShape>(r.shape, shape_words);
  coil.turns = r.turns;
  coil.bore = r.bore;
  coil.bore_end = r.bore_end;
  coil.pitch = r.pitch;
  coil.conductor = conductor_of(r.conductor);
  if (r.lead_length) coil.leads = Leads{*r.lead_length, r.lead_spacing.value_or(0.0), {}};
  if (r.coolant_flow) {
    coil.coolant.emplace().flow = *r.coolant_flow;
    if (r.coolant_inlet) coil.coolant->inlet = *r.coolant_inlet;
  }
  return coil;
}

WorkpieceRecord record_of(const Workpiece& workpiece, const std::optional<Heat>& heat) {
  WorkpieceRecord r;
  r.material = workpiece.material.name;
  const OutlineExtent extent = extent_of(workpiece.outline);
  r.bottom = extent.low;
  r.top = extent.high;
  r.diameter = 2.0 * extent.outer;
  if (heat && heat->target) {
    r.target = heat->target;
    r.target_at = word(heat->target_at, target_words);
    r.target_of = heat->target_of;
  }
  return r;
}

Workpiece workpiece_of(const WorkpieceRecord& r) {
  Workpiece workpiece;
  workpiece.material.name = r.material;
  const double radius = r.diameter / 2.0;
  workpiece.outline.profile = {{0.0, r.bottom}, {radius, r.bottom}, {radius, r.top}, {0.0, r.top}};
  return workpiece;
}

BankRecord record_of(const Tank& tank) {
  BankRecord r{tank.capacitance, tank.cans, {}, {}};
  if (tank.can_limits) {
    r.can_current = tank.can_limits->current;
    r.can_voltage = tank.can_limits->voltage;
  }
  return r;
}

Tank tank_of(const BankRecord& r) {
  Tank tank;
  tank.capacitance = r.capacitance;
  tank.cans = r.cans;
  tank.can_limits = CanLimits{r.can_current, r.can_voltage, {}, {}};
  return tank;
}

SupplyRecord record_of(const PushPullDrive& drive) {
  SupplyRecord r;
  r.voltage = drive.supply;
  r.limit = drive.supply_limit;
  if (drive.supply_limit) r.limit_kind = word(drive.limit_kind, limit_words);
  r.fuse = drive.fuse;
  r.switch_voltage = drive.transistor.voltage_limit;
  r.chokes = drive.choke.count;
  r.choke_inductance = drive.choke.inductance;
  return r;
}

PushPullDrive drive_of(const SupplyRecord& r) {
  PushPullDrive drive;
  drive.supply = r.voltage;
  drive.supply_limit = r.limit;
  drive.limit_kind = meant<LimitKind>(r.limit_kind, limit_words);
  drive.fuse = r.fuse;
  drive.transistor.voltage_limit = r.switch_voltage;
  drive.choke.count = r.chokes;
  drive.choke.inductance = r.choke_inductance;
  return drive;
}

}  // namespace

HeaterRecord record_of(const Heater& heater) {
  HeaterRecord r;
  r.coil = record_of(heater.coil);
  if (heater.workpiece) r.workpiece = record_of(*heater.workpiece, heater.heat);
  if (heater.tank) r.bank = record_of(*heater.tank);
  if (const auto* drive = std::get_if<PushPullDrive>(&heater.drive)) r.supply = record_of(*drive);
  return r;
}

Heater heater_of(const HeaterRecord& record) {
  Heater heater;
  heater.coil = coil_of(record.coil);
  heater.drive = CurrentDrive{};
  if (record.workpiece) {
    heater.workpiece = workpiece_of(*record.workpiece);
    if (record.workpiece->target) {
      heater.heat.emplace().target = record.workpiece->target;
      heater.heat->target_at = meant<TargetAt>(record.workpiece->target_at, target_words);
      heater.heat->target_of = record.workpiece->target_of;
    }
  }
  if (record.bank) heater.tank = tank_of(*record.bank);
  if (record.supply) heater.drive = drive_of(*record.supply);
  return heater;
}

}  // namespace cw
