#pragma once

#include <array>
#include <vector>

namespace cw {

/// A point [m] or vector in space, the coil's axis along z; flux density is in [T].
using Vector3 = std::array<double, 3>;

/// A straight thin conductor that carries `share` of the current from one end to the other.
struct Filament {
  Vector3 from{}, to{};
  double share = 1.0;
};

/// Flux density of straight filaments at a point, per ampere [T/A]: Biot and Savart's law for a
/// finite wire, (mu0/4 pi d)(cos a1 - cos a2). Zero on the line of the wire itself. Valid in air,
/// at distances much smaller than a wavelength.
Vector3 flux_of_filaments(const std::vector<Filament>& filaments, const Vector3& at);

}  // namespace cw
