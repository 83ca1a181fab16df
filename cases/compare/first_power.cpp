#include "cases/compare/first_power.hpp"

#include <cmath>

namespace cw::cases {

namespace {

/// Both states of one variant of the heater, each started from that of the sound heater.
ReadingValues variant(const Case& subject, const PowerUp& empty,
                      const std::optional<PowerUp>& loaded, bool empty_changes) {
  PowerUp other = empty;
  if (empty_changes)
    other = power_up(emptied(subject), std::nullopt, empty.point.tank.coil, Effort::fast);
  std::optional<PowerUp> hot = loaded;
  if (loaded) hot = power_up(subject, std::nullopt, loaded->point.tank.coil, Effort::fast);
  return readings_of(subject, other, hot);
}

std::array<double, reading_count> change(const ReadingValues& from, const ReadingValues& to) {
  std::array<double, reading_count> relative = {};
  for (std::size_t k = 0; k < reading_count; ++k)
    if (from[k] && to[k] && *from[k] > 0 && *to[k] > 0) relative[k] = std::log(*to[k] / *from[k]);
  return relative;
}

}  // namespace

Expectation expect_readings(const Case& subject) {
  const PowerUp empty = power_up(emptied(subject), std::nullopt, {}, Effort::fast);
  std::optional<PowerUp> loaded;
  if (subject.workpiece)
    loaded = power_up(subject, std::nullopt, empty.point.tank.coil, Effort::fast);
  Expectation e;
  e.value = readings_of(subject, empty, loaded);
  const Tolerance& t = subject.tolerance;
  Case other = subject;
  other.tank->capacitance *= 1 + t.capacitance;
  if (t.capacitance > 0) e.by_part[0] = change(e.value, variant(other, empty, loaded, true));
  if (t.gap > 0)
    e.by_part[1] = change(e.value, variant(with_wider_gap(subject, t.gap), empty, loaded, true));
  if (!subject.workpiece) return e;
  if (t.permeability > 1 && subject.workpiece->material.magnetisation)
    e.by_part[2] = change(
        e.value, variant(with_other_steel(subject, t.permeability, 1.0), empty, loaded, false));
  if (t.resistivity > 0)
    e.by_part[3] = change(
        e.value, variant(with_other_steel(subject, 1.0, 1 + t.resistivity), empty, loaded, false));
  return e;
}

std::vector<ReadingResult> commissioning_readings(const Expectation& expected) {
  std::vector<ReadingResult> all;
  for (std::size_t k = 0; k < reading_count; ++k) {
    if (!expected.value[k]) continue;
    double squares = 0;
    for (const auto& part : expected.by_part) squares += part[k] * part[k];
    const double band = std::exp(std::sqrt(squares)), value = *expected.value[k];
    all.push_back({reading_names[k], reading_units[k], value, value / band, value * band});
  }
  return all;
}

std::optional<CommissioningResult> commissioning_of(const Case& subject) {
  if (!tank_rings(subject.drive)) return std::nullopt;
  return CommissioningResult{commissioning_readings(expect_readings(subject))};
}

}  // namespace cw::cases
