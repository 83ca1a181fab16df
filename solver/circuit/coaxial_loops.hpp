#pragma once

namespace cw {

/// Mutual inductance [H] of two coaxial circular filaments of radii r1, r2 [m] a distance `z` [m]
/// apart along the axis. With z = sqrt(dz^2 + a^2) it is the Neumann integral regularised by
/// 1/sqrt(d^2 + a^2). Accurate to rounding for near and far loops alike; z = 0 needs r1 != r2.
/// Source: Maxwell's formula, Treatise art. 701; M = mu0 sqrt(r1 r2) [(2/k - k) K - (2/k) E],
/// k^2 = 4 r1 r2/((r1 + r2)^2 + z^2).
double coaxial_mutual(double r1, double r2, double z);

}  // namespace cw
