#pragma once

#include <functional>

#include "solver/circuit/fixed_frequency.hpp"

namespace cw {

/// Impedance of coil and leads at a current [A] rms; each call solves the field.
using CoilAtCurrent = std::function<std::complex<double>(double current)>;

/// Current [A] rms at which drive and coil agree to `tolerance`, relative. One call if the drive
/// fixes the current, else the secant method in its logarithm from `start`. This converges even if
/// the coil saturates so far that its voltage hardly depends on the current. Throws SolveError
/// after 30 calls.
double settle_current(const FixedFrequency& drive, double start, double tolerance,
                      const CoilAtCurrent& impedance);

}  // namespace cw
