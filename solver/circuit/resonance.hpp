#pragma once

#include <functional>
#include <variant>

#include "solver/circuit/tank.hpp"

namespace cw {

/// Why a tank will not ring: with only the bank across it, the coil's reactance never cancels that
/// of the capacitors (for constant values and a lossless bank: R >= sqrt(L/C)).
struct NoRing {
  double resistance_ohm = 0.0;  ///< of coil, leads and joints, at `undamped`
  double limit_ohm = 0.0;       ///< sqrt(L/C), the resistance below which it would ring
  Frequency undamped;           ///< 1/sqrt(LC), where the tank would ring without loss
};

/// Coil at a frequency; cheap to call (some hundred calls a solve).
using CoilCurve = std::function<CoilImpedance(Frequency)>;

/// The frequency at which the tank, seen from the drive, has no reactance: the root of Im Y = 0,
/// the highest one below 1.5 times 1/sqrt(LC) with L of the coil at `seed`. For constant values and
/// a lossless bank w^2 = 1/(LC) - (R/L)^2 (closed form, derived from Im Y = 0); the chokes raise
/// it. Whether the tank rings is decided without the chokes: their inductance alone would always
/// produce a root at a far lower frequency, at which no drive runs. The search goes down to a
/// thousandth of 1/sqrt(LC). Relative accuracy 1e-14.
std::variant<Frequency, NoRing> zero_reactance(const TankCircuit& circuit, const CoilCurve& coil,
                                               Frequency seed);

}  // namespace cw
