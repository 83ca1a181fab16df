#include "cases/design/choke_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "materials/figures.hpp"
#include "materials/usual_parts.hpp"
#include "solver/circuit/flat_conductor.hpp"

namespace cw::cases {

namespace {

constexpr double current_density = 5e6;  // [A/m2]; common practice, no source
constexpr int thickest = 12;             // a hand still bends it round a ring; common practice
constexpr double largest_fill = 0.95;    // of the hole, by one layer
constexpr int most_layers = 2;

/// The largest direct current of one choke, and what lies on it.
std::optional<ChokeDuty> duty_of(const Result& result, const Choke& choke) {
  double supply = 0.0, peak = 0.0;
  for (const StateResult& state : result.states)
    if (state.supply) supply = std::max(supply, state.supply->current);
  if (result.heat)
    for (const HeatLine& line : result.heat->lines)
      supply = std::max(supply, line.supply_current.value_or(0.0));
  for (const LimitResult& limit : result.limits)
    if (limit.part == "feed choke" && limit.quantity == "current_peak_A") peak = limit.value;
  if (supply <= 0.0 || choke.count < 1 || !std::isfinite(choke.inductance)) return std::nullopt;
  const double mean = supply / choke.count;
  return ChokeDuty{choke.inductance, mean, std::max(0.0, 2 * (peak - mean))};
}

/// One wire, or two or three side by side, of copper enough.
void choose_wire(double mean, ChokeSheet& sheet) {
  const double area = mean / current_density;
  const auto needed = [&](int wires) { return std::sqrt(4 * area / (std::numbers::pi * wires)); };
  while (needed(sheet.wires) > gauge_diameter(thickest)) ++sheet.wires;
  sheet.gauge = thickest;
  while (gauge_diameter(sheet.gauge + 1) >= needed(sheet.wires)) ++sheet.gauge;
  sheet.diameter = gauge_diameter(sheet.gauge);
}

/// Winds the ring; false where the wire does not go on in so many layers.
bool fits(const RingCore& ring, const ChokeDuty& duty, ChokeSheet& sheet) {
  const ChokeWire wire{sheet.diameter, copper_resistivity(Temperature::celsius(20))};
  const auto wound = wind_choke(ring, wire, duty);
  if (!wound) return false;
  const double fill = wound->hole_fill * sheet.wires;
  sheet.layers = static_cast<int>(std::ceil(fill / largest_fill));
  if (sheet.layers > most_layers) return false;
  sheet.ring = ring;
  sheet.wound = *wound;
  sheet.wound.resistance_ohm /= sheet.wires;
  sheet.wound.hole_fill = fill;
  return true;
}

}  // namespace

double gauge_diameter(int gauge) {
  return 0.127e-3 * std::pow(92.0, (36 - gauge) / 39.0);
}

std::optional<ChokeSheet> choke_sheet(const Result& result, const Choke& choke) {
  const auto duty = duty_of(result, choke);
  if (!duty) return std::nullopt;
  ChokeSheet sheet;
  choose_wire(duty->mean_A, sheet);
  for (const PowderRing& size : powder_rings)
    for (const PowderGrade& grade : powder_grades) {
      RingCore ring{size.outer, size.inner, size.height, grade.permeability, {}, {}, {}};
      ring.roll_off = BiasRollOff{grade.bias_80, grade.bias_50};
      if (fits(ring, *duty, sheet)) return sheet;
    }
  return std::nullopt;
}

std::string words_of(const ChokeSheet& sheet) {
  const auto mm = [](double metres) { return figure_short(1e3 * metres); };
  return fmt::format("{} turns of {}AWG {} ({} mm) on a ring of {} x {} x {} mm, permeability {:g}",
                     sheet.wound.turns, sheet.wires > 1 ? fmt::format("{} x ", sheet.wires) : "",
                     sheet.gauge, mm(sheet.diameter), mm(sheet.ring.outer), mm(sheet.ring.inner),
                     mm(sheet.ring.height), sheet.ring.relative_permeability);
}

}  // namespace cw::cases
