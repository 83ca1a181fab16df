#pragma once

#include <complex>
#include <optional>

#include "solver/heater/heater.hpp"

namespace cw {

/// A drive that sets the frequency itself, as seen from coil and leads: a current, or a voltage
/// behind an impedance.
struct FixedFrequency {
  Frequency frequency;
  bool holds_current = false;
  double rms = 0.0;                     ///< of the current [A], or of the voltage [V]
  std::complex<double> in_series = {};  ///< between the voltage and the coil [ohm]

  /// Through a coil of this impedance, leads included [A] rms.
  [[nodiscard]] double current(std::complex<double> coil) const;
  /// Relative change of the current over that of the coil's impedance: 0 for a fixed current, 1 for
  /// a voltage across the coil, more in a series tank near resonance.
  [[nodiscard]] double sensitivity(std::complex<double> coil) const;
};

/// The drive of a heater; nothing if the tank determines the frequency.
std::optional<FixedFrequency> fixed_frequency(const Heater& heater);

}  // namespace cw
