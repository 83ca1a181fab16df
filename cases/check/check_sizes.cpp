#include <optional>
#include <vector>

#include <fmt/format.h>

#include "cases/check/findings.hpp"
#include "cases/check/ranges.hpp"
#include "cases/wording.hpp"

namespace cw::cases {

namespace {

using D = Dimension;

/// The value a thousand times smaller or larger, if that is in range: the usual mistake in a
/// prefix.
std::optional<double> without_slip(const Range& range) {
  for (const double factor : {1e-3, 1e3, 1e-6, 1e6}) {
    const double x = *range.value * factor;
    if (x >= range.low && x <= range.high) return x;
  }
  return std::nullopt;
}

}  // namespace

void check_ranges(Findings& findings, const std::vector<Range>& ranges) {
  for (const Range& range : ranges) {
    if (!range.value || (*range.value >= range.low && *range.value <= range.high)) continue;
    std::string text =
        fmt::format("found {}; allowed: {} to {}", in_words(*range.value, range.dimension),
                    in_words(range.low, range.dimension), in_words(range.high, range.dimension));
    if (range.dimension != D::number) {
      if (const auto slip = without_slip(range)) {
        text += fmt::format("; is the unit right? write for example \"{}\"",
                            in_words(*slip, range.dimension));
      }
    }
    findings.error(range.key, text);
  }
}

namespace {

std::vector<Range> of_outline(const std::string& path, const Outline& shape) {
  return {{path + ".diameter", shape.diameter, 0.1e-3, 1.0, D::length},
          {path + ".bore", shape.bore, 0.0, 1.0, D::length},
          {path + ".length", shape.length, 0.1e-3, 5.0, D::length},
          {path + ".centre", shape.centre, -5.0, 5.0, D::length}};
}

const std::string conductor_path = "coil.conductor.";

std::vector<Range> ranges_of(const RoundTube& tube) {
  return {{conductor_path + "tube", tube.diameter, 0.5e-3, 0.1, D::length},
          {conductor_path + "wall", tube.thickness, 0.05e-3, 0.05, D::length}};
}

std::vector<Range> ranges_of(const RoundWire& wire) {
  return {{conductor_path + "wire", wire.diameter, 0.05e-3, 0.1, D::length}};
}

std::vector<Range> ranges_of(const RectangularBar& bar) {
  return {{conductor_path + "bar.0", bar.radial_size, 0.05e-3, 0.2, D::length},
          {conductor_path + "bar.1", bar.axial_size, 0.05e-3, 0.2, D::length},
          {conductor_path + "wall", bar.thickness, 0.05e-3, 0.05, D::length}};
}

std::vector<Range> ranges_of(const StrandBundle& bundle) {
  return {{conductor_path + "strands", bundle.strands, 2, 100000, D::number},
          {conductor_path + "strand", bundle.strand, 0.01e-3, 2e-3, D::length},
          {conductor_path + "bundle", bundle.bundle, 0.1e-3, 0.05, D::length},
          {conductor_path + "lay", bundle.lay, 1.0, 1.5, D::number}};
}

std::vector<Range> of_coil(const Coil& coil) {
  const auto cooled = coil.coolant ? std::optional(coil.coolant->flow) : std::nullopt;
  const auto rise = coil.coolant ? std::optional(coil.coolant->rise) : std::nullopt;
  const auto pressure = coil.coolant ? coil.coolant->pressure : std::nullopt;
  const auto length = coil.leads ? std::optional(coil.leads->length) : std::nullopt;
  const auto spacing = coil.leads ? std::optional(coil.leads->spacing) : std::nullopt;
  const bool rings = coil.shape == CoilShape::rings;
  const bool pitched = coil.pitch != 0.0 || coil.turns > 1.0;
  const auto bore = rings ? std::nullopt : std::optional(coil.bore);
  const auto pitch = rings || coil.gap || !pitched ? std::nullopt : std::optional(coil.pitch);
  std::vector<Range> ranges = {
      {rings ? "coil.ring" : "coil.turns", coil.turns, rings ? 1.0 : 0.5, 200.0, D::number},
      {"coil.bore", bore, 1e-3, 2.0, D::length},
      {"coil.bore_end", coil.bore_end, 1e-3, 2.0, D::length},
      {"coil.pitch", pitch, 0.05e-3, 0.5, D::length},
      {"coil.gap", coil.gap, smallest_gap, 0.5, D::length},
      {"coil.leads.length", length, 1e-3, 10.0, D::length},
      {"coil.leads.spacing", spacing, 0.1e-3, 1.0, D::length},
      {"coil.coolant.flow", cooled, 0.01 / 60e3, 100.0 / 60e3, D::flow},
      {"coil.coolant.rise", rise, 1.0, 80.0, D::temperature_difference},
      {"coil.coolant.pressure", pressure, 100.0, 5e6, D::pressure}};
  for (std::size_t i = 0; i < coil.rings.size(); ++i) {
    ranges.push_back({fmt::format("coil.ring.{}.r", i), coil.rings[i].r, 0.5e-3, 1.0, D::length});
    ranges.push_back({fmt::format("coil.ring.{}.z", i), coil.rings[i].z, -2.0, 2.0, D::length});
  }
  return ranges;
}

std::vector<Range> of_tank(const Tank& tank) {
  const auto limits = tank.can_limits.value_or(CanLimits{});
  const auto cans = tank.cans ? std::optional<double>(*tank.cans) : std::nullopt;
  return {{"tank.capacitance", tank.capacitance, 100e-12, 10e-3, D::capacitance},
          {"tank.dissipation_factor", tank.dissipation_factor, 0.0, 0.1, D::number},
          {"tank.esr", tank.esr, 0.0, 0.1, D::resistance},
          {"tank.esl", tank.esl, 0.0, 1e-6, D::inductance},
          {"tank.cans", cans, 1, 1000, D::number},
          {"tank.cans_in_series", tank.cans_in_series, 1, 100, D::number},
          {"tank.can_limits.current", limits.current, 0.01, 2000.0, D::current},
          {"tank.can_limits.voltage", limits.voltage, 5.0, 20e3, D::voltage},
          {"tank.can_limits.loss", limits.loss, 1e-3, 1000.0, D::power},
          {"tank.can_limits.reactive_power", limits.reactive_power, 0.1, 1e6, D::power},
          {"tank.joints.resistance", tank.joints.resistance, 0.0, 0.1, D::resistance},
          {"tank.joints.inductance", tank.joints.inductance, 0.0, 10e-6, D::inductance}};
}

/// For a drive that sets the frequency.
std::vector<Range> of_set(const SetFrequency& set) {
  return {{"drive.frequency", set.frequency.hertz, 10.0, 10e6, D::frequency},
          {"drive.rms", set.rms, 1e-3, 20e3, set.holds_current ? D::current : D::voltage}};
}

std::vector<Range> of_supply(const DcSupply& source) {
  const Cable cable = source.cable.value_or(Cable{});
  return {{"drive.supply", source.supply, 5.0, 400.0, D::voltage},
          {"drive.supply_limit", source.supply_limit, 0.1, 2000.0, D::current},
          {"drive.battery_resistance", source.battery_resistance, 0.0, 2.0, D::resistance},
          {"drive.cable.length", cable.length, 0.01, 50.0, D::length},
          {"drive.cable.section", cable.section, 0.1e-6, 500e-6, D::area},
          {"drive.cable.resistance", cable.resistance, 0.0, 1.0, D::resistance},
          {"drive.fuse", source.fuse, 0.1, 2000.0, D::current}};
}

std::vector<Range> of_switch(const Switch& transistor) {
  return {{"drive.switch.drop", transistor.drop, 0.0, 5.0, D::voltage},
          {"drive.switch.gate_time", transistor.gate_time, 1e-9, 20e-6, D::time},
          {"drive.switch.resistance", transistor.resistance, 0.0, 1.0, D::resistance},
          {"drive.switch.voltage_limit", transistor.voltage_limit, 10.0, 10e3, D::voltage}};
}

std::vector<Range> of_choke(const Choke& choke) {
  return {{"drive.choke.count", choke.count, 1, 2, D::number},
          {"drive.choke.inductance", choke.inductance, 1e-6, 0.1, D::inductance},
          {"drive.choke.resistance", choke.resistance, 0.0, 10.0, D::resistance},
          {"drive.choke.saturation", choke.saturation, 0.05, 5e3, D::current}};
}

void check_drive(Findings& findings, const Drive& drive) {
  if (const auto set = set_frequency(drive)) check_ranges(findings, of_set(*set));
  const DriveParts parts = drive_parts(drive);
  if (parts.supply != nullptr) check_ranges(findings, of_supply(*parts.supply));
  if (parts.transistor != nullptr) check_ranges(findings, of_switch(*parts.transistor));
  if (parts.choke != nullptr) check_ranges(findings, of_choke(*parts.choke));
}

}  // namespace

void check_sizes(Findings& findings) {
  const Case& subject = findings.subject;
  if (subject.workpiece) {
    check_ranges(findings, of_outline("workpiece", subject.workpiece->outline));
    check_ranges(findings,
                 {{"workpiece.insertion", subject.workpiece->insertion, -1.0, 5.0, D::length}});
  }
  for (std::size_t i = 0; i < subject.bodies.size(); ++i) {
    const std::string path = fmt::format("body.{}", i);
    check_ranges(findings, of_outline(path, subject.bodies[i].outline));
    check_ranges(findings,
                 {{path + ".contact", subject.bodies[i].contact, 1.0, 1e6, D::heat_transfer}});
  }
  check_ranges(findings, {{"body", static_cast<double>(subject.bodies.size()), 0, 50, D::number}});
  check_ranges(findings, of_coil(subject.coil));
  check_ranges(findings, subject.coil.conductor.ask([](const auto& s) { return ranges_of(s); }));
  if (subject.tank) check_ranges(findings, of_tank(*subject.tank));
  check_drive(findings, subject.drive);
  if (subject.heat) {
    check_ranges(findings, {{"heat.until", subject.heat->until, 0.01, 1e5, D::time},
                            {"heat.emissivity", subject.heat->emissivity, 0.01, 1.0, D::number},
                            {"heat.thermometer", subject.heat->thermometer, 0.05, 1.0, D::number}});
  }
}

}  // namespace cw::cases
