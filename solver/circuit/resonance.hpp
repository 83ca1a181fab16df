#pragma once

#include <functional>
#include <variant>

#include "solver/circuit/tank.hpp"

namespace cw {

/// Why a tank will not ring: with the bank alone across it, the coil's reactance never makes up for
/// the capacitors' (with constant values and a lossless bank: R >= sqrt(L/C)).
struct NoRing {
  double resistance_ohm = 0.0;  ///< of coil, leads and joints, at `undamped`
  double limit_ohm = 0.0;       ///< sqrt(L/C), what it would have to stay below
  Frequency undamped;           ///< 1/sqrt(LC), where the tank would ring without loss
};

/// Coil at a frequency; cheap to call (some hundred calls a solve).
using CoilCurve = std::function<CoilImpedance(Frequency)>;

/// The frequency where the tank, seen from the drive, has no reactance: root of Im Y = 0, the
/// highest below 1.5 times 1/sqrt(LC) with L of the coil at `seed`. For constant values and a
/// lossless bank w^2 = 1/(LC) - (R/L)^2 (closed form, derived from Im Y = 0); the chokes raise it.
/// Whether the tank rings is judged without the chokes: their inductance alone would always
/// make up a root far below, at which no drive runs. Looked for down to a thousandth of 1/sqrt(LC).
/// Relative accuracy 1e-14.
std::variant<Frequency, NoRing> zero_reactance(const TankCircuit& circuit, const CoilCurve& coil,
                                               Frequency seed);

}  // namespace cw
