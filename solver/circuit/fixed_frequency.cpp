#include "solver/circuit/fixed_frequency.hpp"

#include <cmath>

#include "solver/circuit/tank.hpp"

namespace cw {

namespace {

using Fixed = std::optional<FixedFrequency>;

Fixed fixed(const PushPullDrive& /*drive*/, const Heater& /*heater*/) {
  return std::nullopt;
}

Fixed fixed(const CurrentDrive& drive, const Heater& /*heater*/) {
  return FixedFrequency{drive.frequency, true, drive.rms};
}

Fixed fixed(const VoltageDrive& drive, const Heater& /*heater*/) {
  return FixedFrequency{drive.frequency, false, drive.rms};
}

Fixed fixed(const SeriesTankDrive& drive, const Heater& heater) {
  return FixedFrequency{drive.frequency, false, drive.rms,
                        series_impedance(*heater.tank, drive.frequency)};
}

}  // namespace

double FixedFrequency::current(std::complex<double> coil) const {
  return holds_current ? rms : rms / std::abs(coil + in_series);
}

double FixedFrequency::sensitivity(std::complex<double> coil) const {
  return holds_current ? 0.0 : std::abs(coil) / std::abs(coil + in_series);
}

std::optional<FixedFrequency> fixed_frequency(const Heater& heater) {
  return std::visit([&](const auto& drive) { return fixed(drive, heater); }, heater.drive);
}

}  // namespace cw
