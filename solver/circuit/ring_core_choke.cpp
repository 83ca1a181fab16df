#include "solver/circuit/ring_core_choke.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "materials/quantity.hpp"

namespace cw {

namespace {

using std::numbers::pi;

void require_usable(const RingCore& core, const ChokeWire& wire, const ChokeDuty& duty) {
  if (!(core.inner > 0 && core.outer > core.inner && core.height > 0))
    throw std::invalid_argument(
        "a ring core needs an inner diameter above zero, an outer one above that, and a height");
  if (!(inductance_factor(core) > 0))
    throw std::invalid_argument("a ring core needs a permeability or an A_L above zero");
  if (core.roll_off && !(core.roll_off->at_80_percent > 0 &&
                         core.roll_off->at_50_percent > core.roll_off->at_80_percent))
    throw std::invalid_argument(
        "80 % of the permeability must be left at a smaller field strength than 50 %");
  if (!(wire.diameter > 0 && wire.resistivity > 0 && duty.inductance_H > 0))
    throw std::invalid_argument("a choke needs a wire and a wanted inductance above zero");
}

double share_at(const RingCore& core, double field) {
  return core.roll_off ? permeability_left(*core.roll_off, field) : 1.0;
}

/// Inductance with this number of turns at the mean current [H].
double biased(const RingCore& core, const ChokeDuty& duty, int turns) {
  const double field = turns * duty.mean_A / path_length(core);
  return inductance_factor(core) * turns * turns * share_at(core, field);
}

}  // namespace

double path_length(const RingCore& core) {
  return pi * (core.outer - core.inner) / std::log(core.outer / core.inner);
}

double section_area(const RingCore& core) {
  return core.height * (core.outer - core.inner) / 2;
}

double inductance_factor(const RingCore& core) {
  if (core.inductance_factor) return *core.inductance_factor;
  return mu0 * core.relative_permeability * section_area(core) / path_length(core);
}

double permeability_left(const BiasRollOff& data, double field) {
  const double power = std::log(0.25) / std::log(data.at_80_percent / data.at_50_percent);
  return 1 / (1 + std::pow(std::abs(field) / data.at_50_percent, power));
}

std::optional<WoundChoke> wind_choke(const RingCore& core, const ChokeWire& wire,
                                     const ChokeDuty& duty) {
  require_usable(core, wire, duty);
  constexpr int most = 2000;  // too many to wind on a ring by hand
  WoundChoke choke;
  while (choke.turns < most && biased(core, duty, ++choke.turns) < duty.inductance_H) {
  }
  choke.biased_H = biased(core, duty, choke.turns);
  if (choke.biased_H < duty.inductance_H) return std::nullopt;
  const double n = choke.turns, peak = duty.mean_A + duty.ripple_peak_to_peak_A / 2;
  choke.unbiased_H = inductance_factor(core) * n * n;
  choke.field_mean = n * duty.mean_A / path_length(core);
  choke.field_peak = n * peak / path_length(core);
  const double flux_per_ampere = inductance_factor(core) * n / section_area(core);
  choke.flux_density_peak = flux_per_ampere * peak;
  if (core.saturation) choke.saturation_A = *core.saturation / flux_per_ampere;
  const double round_the_section = 2 * core.height + (core.outer - core.inner) + pi * wire.diameter;
  choke.wire_length = n * round_the_section;
  choke.resistance_ohm =
      wire.resistivity * choke.wire_length / (pi * wire.diameter * wire.diameter / 4);
  choke.hole_fill = n * wire.diameter / (pi * (core.inner - wire.diameter));
  return choke;
}

}  // namespace cw
