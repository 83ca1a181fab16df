#pragma once

#include <complex>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// A long straight non-magnetic conductor of circular section, solid or tube.
struct RoundConductor {
  double outer_radius = 0.0;  ///< [m]
  double wall = 0.0;          ///< [m]; 0, infinity or anything from outer_radius up: solid
  double conductivity = 0.0;  ///< [S/m]
  [[nodiscard]] bool solid() const { return wall <= 0.0 || wall >= outer_radius; }
};

/// A series impedance R + j omega L, per metre or in total, as the function that returns it states.
struct SeriesImpedance {
  double resistance_ohm = 0.0;
  double inductance_H = 0.0;
};

/// Throws std::invalid_argument if the conductor or the frequency cannot be used.
void require_usable(const RoundConductor& c, Frequency f);

/// Direct-current resistance [ohm/m].
double dc_resistance(const RoundConductor& c);

/// Internal impedance per metre (resistance and the flux inside the metal) with skin effect,
/// without any other current nearby. Exact. Valid from f = 0, where it gives the direct-current
/// values, up to an outer radius of 7000 skin depths.
/// Source: solid, Z = Rdc q I0(q)/(2 I1(q)) with q = (1 + j) a/delta (Kelvin); tube with the return
/// outside, H. B. Dwight, Trans. AIEE 41 (1922) 203 (from memory).
SeriesImpedance internal_impedance(const RoundConductor& c, Frequency f);

/// Response kappa_n, n = 1 ... orders (element n - 1), to a transverse multipole field: the outer
/// potential (r/b)^n cos(n phi) causes the reaction -kappa_n (b/r)^n cos(n phi), b the outer
/// radius. 0 at f = 0, 1 in the thin-skin limit; Im kappa > 0 is the loss. For a solid wire kappa_n
/// is I_{n+1}(kb)/I_{n-1}(kb); for a tube the K functions enter so that the bore carries no
/// current. Source: separation of variables, as for the round wire in a transverse field (for
/// example W. R. Smythe, Static and Dynamic Electricity, chapter on eddy currents, from memory).
std::vector<std::complex<double>> transverse_response(const RoundConductor& c, Frequency f,
                                                      int orders);

}  // namespace cw
