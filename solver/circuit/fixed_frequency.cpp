#include "solver/circuit/fixed_frequency.hpp"

#include <cmath>

#include "solver/circuit/tank.hpp"

namespace cw {

double FixedFrequency::current(std::complex<double> coil) const {
  return holds_current ? rms : rms / std::abs(coil + in_series);
}

double FixedFrequency::sensitivity(std::complex<double> coil) const {
  return holds_current ? 0.0 : std::abs(coil) / std::abs(coil + in_series);
}

std::optional<FixedFrequency> fixed_frequency(const Heater& heater) {
  const auto set = set_frequency(heater.drive);
  if (!set) return std::nullopt;
  const bool bank = tank_use(heater.drive) == TankUse::in_series;
  return FixedFrequency{
      set->frequency, set->holds_current, set->rms,
      bank ? series_impedance(*heater.tank, set->frequency) : std::complex<double>{}};
}

}  // namespace cw
