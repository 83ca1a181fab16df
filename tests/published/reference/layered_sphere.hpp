#pragma once

#include "tests/published/reference/layered_cylinder.hpp"

/// Concentric spherical layers about the origin (solid spheres, shells, shells of several metals)
/// in axisymmetric fields: A_phi in degrees n of Legendre's functions, P_n^1(cos theta) times r^n
/// and r^-(n+1) in air, times modified spherical Bessel functions i_n and k_n in metal (e.g. W. R.
/// Smythe, Static and Dynamic Electricity, 10; from memory).
namespace cw::reference {

/// Degree n = 1, 2, ... of the field at the layers, for all degrees to `last`.
std::vector<LayersAnswer> answer_to_degrees(const std::vector<Layer>& layers, double frequency,
                                            int last);

/// Coaxial filament rings in series outside the sphere. The series falls as (radius/distance of a
/// ring from the centre)^2n and is carried to 1e-16 of its first term.
LoadAnswer filaments_round_sphere(const std::vector<Filament>& rings,
                                  const std::vector<Layer>& layers, double frequency);

/// What the layers do to a uniform field of 1 T rms.
struct UniformFieldAnswer {
  Complex inside;             ///< B in the first layer's middle when that is air
  Complex dipole;             ///< D/radius^3 with B_r = (1 + D/r^3) cos(theta) outside
  std::vector<double> power;  ///< in each layer [W]
};

UniformFieldAnswer layers_in_uniform_field(const std::vector<Layer>& layers, double frequency);

}  // namespace cw::reference
