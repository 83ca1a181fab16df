#pragma once

#include "tests/published/reference/layered_cylinder.hpp"

namespace cw::reference {

/// A non-magnetic disc (or washer, with a bore) whose upper face lies in z = 0: [m], [S/m].
struct FlatDisc {
  double radius;
  double thickness;
  double conductivity;
  double bore = 0.0;
};

/// Resolution of the current density.
struct DiscOrder {
  int radial = 8;       ///< polynomials in r on each patch
  int axial = 6;        ///< polynomials in z on each patch
  double reach = 1200;  ///< the integral over wave numbers ends at reach/radius
};

/// Coaxial filament rings in series above the disc (z > 0); one power, the disc's. There is no
/// closed form: the current density is a sum of Legendre polynomials on patches, thin ones within
/// three skin depths of the faces and the rim, and obeys the integral equation
/// J/sigma = -j w (A of the rings + A of J) tested with the same polynomials. The kernel is
/// Hankel's integral mu0/2 J1(alpha r) J1(alpha r') exp(-alpha |z - z'|) over alpha, so that every
/// integral over a patch is smooth and none is singular. In non-magnetic metal A and its slope,
/// hence J, are smooth to the faces, and the error falls fast with the degree: below 5e-6 of power
/// and |change| with the default order (ReferenceDisc.OrdersAgree).
LoadAnswer filaments_over_disc(const std::vector<Filament>& rings, const FlatDisc& disc,
                               double frequency, const DiscOrder& order = {});

}  // namespace cw::reference
