#pragma once

#include <Eigen/Core>
#include <array>
#include <complex>
#include <vector>

#include "mesh/mesh.hpp"
#include "solver/fem/potential.hpp"
#include "solver/field/medium.hpp"

namespace cw {

/// A time-harmonic field, exp(+j w t), rms phasors.
struct FieldSolution {
  Frequency frequency;
  Media media;
  Eigen::VectorXcd potential;  ///< A_phi [Wb/m], rms, one per mesh node
  std::vector<std::complex<double>>
      loop_voltage;  ///< by RegionId: voltage driving the turn [V] rms; 0 for passive bodies
  std::vector<std::complex<double>>
      impressed;  ///< by RegionId: uniform current density of stranded turns [A/m^2] rms
  /// If permeability depends on the field: mean reluctivity of each triangle [m/H], and for each
  /// RegionId whether it does. Both are empty if every region has that of its medium.
  std::vector<double> local_reluctivity = {};
  std::vector<char> saturating = {};
  /// If conductivity varies inside a body: its values at the six nodes of every triangle, taken
  /// from inside it [S/m], interpolated by the second-order functions. Empty if every region has
  /// that of its medium.
  std::vector<std::array<double, 6>> local_conductivity = {};

  [[nodiscard]] double reluctivity_of(const Mesh& mesh, std::size_t t) const;
  [[nodiscard]] bool saturates(RegionId region) const;
  /// Conductivity [S/m] in triangle `t` at the point with these values of the shape functions.
  [[nodiscard]] double conductivity_at(const Mesh& mesh, std::size_t t,
                                       const Eigen::Vector<double, 6>& shape) const;
};

/// Field at one point of a triangle; rms phasors.
struct FieldPoint {
  Point at;
  std::complex<double> potential;       ///< A_phi [Wb/m]
  std::complex<double> flux_r, flux_z;  ///< B [T]
  std::complex<double> current;         ///< J_phi [A/m^2]
  double power_density = 0.0;           ///< |J|^2/sigma [W/m^3]; strand losses not included

  [[nodiscard]] double flux_rms() const;  ///< |B| [T]
};

/// Field in triangle `t`; what all its points share is computed once. Mesh and field must outlive
/// it.
class FieldInTriangle {
 public:
  FieldInTriangle(const Mesh& mesh, const FieldSolution& field, std::size_t t);
  /// At reference coordinates (x, y), 0 <= x, y and x + y <= 1 (corners (0,0), (1,0), (0,1)). Also
  /// valid on the axis, where A/r is its limit dA/dr.
  [[nodiscard]] FieldPoint at(double x, double y) const;
  [[nodiscard]] const TriangleMap& map() const { return functions_.map(); }

 private:
  const Mesh& mesh_;
  const FieldSolution& field_;
  std::size_t t_;
  PotentialInTriangle functions_;
  Eigen::Matrix<double, 6, 2> potential_;  ///< real and imaginary part
  double size_ = 0.0;                      ///< largest radius of its nodes [m]
};

/// The same at one point.
FieldPoint field_at(const Mesh& mesh, const FieldSolution& field, std::size_t t, double x,
                    double y);

/// Joule loss of each region [W], by RegionId: integral of |J|^2/sigma over the solid of
/// revolution.
std::vector<double> region_losses(const Mesh& mesh, const FieldSolution& field);

/// Magnetic energy, time average, inside the meshed domain [J]: integral of nu |B|^2 / 2.
/// The energy outside the open circle is exterior_energy() in open_boundary.hpp.
double magnetic_energy(const Mesh& mesh, const FieldSolution& field);

/// Mean of |H|^2 over the section of a region, weighted by r [A^2/m^2] rms.
double mean_square_field(const Mesh& mesh, const FieldSolution& field, RegionId region);

}  // namespace cw
