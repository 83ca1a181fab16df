#pragma once

#include "solver/circuit/tank.hpp"

namespace cw {

/// A point at which the coil's impedance is evaluated.
struct CoilPoint {
  Frequency frequency;
  double current_rms_A = 0.0;  ///< through the coil; matters if the workpiece saturates
};

/// The loaded coil near one point, R and L each a power law of frequency and of current:
///   R = R0 (f/f0)^a (I/I0)^b,   L = L0 (f/f0)^c (I/I0)^d.
/// By default a = 1/2, the thin-skin limit of every linear metal, and the other exponents are 0.
/// Positive everywhere; close to the point as accurate as a tangent.
struct LocalCoil {
  CoilPoint at;
  CoilImpedance value = {};                                           ///< at that point, exact
  double resistance_by_frequency = 0.5, resistance_by_current = 0.0;  ///< a, b
  double inductance_by_frequency = 0.0, inductance_by_current = 0.0;  ///< c, d

  [[nodiscard]] CoilImpedance operator()(const CoilPoint& point) const;
};

/// Distance of two points: the greater of |ln f1/f2| and |ln I1/I2|.
double distance(const CoilPoint& a, const CoilPoint& b);

/// The model moved to a newly solved point. It is exact there and also passes through the old
/// point; among such models it has the least change of exponents, in the sense of least squares.
/// Exponents are limited to (-1.5, 2) for R and (-0.8, 0.8) for L; within these limits the
/// equations of the tank have only one solution. Source: C. G. Broyden, Math. Comp. 19 (1965) 577
/// (from memory), the rank-one secant update.
LocalCoil secant_update(const LocalCoil& old, const CoilPoint& point, const CoilImpedance& solved);

}  // namespace cw
