#pragma once

#include <array>

#include "solver/fem/triangle.hpp"
#include "solver/field/saturating_region.hpp"

namespace cw {

/// One triangle of a saturating body at its twelve quadrature points.
struct SaturatingCell {
  std::size_t triangle;
  std::size_t body;                                  ///< index into the regions
  std::array<int, 6> dof;                            ///< unknowns, -1 if A = 0
  std::array<Eigen::Matrix<double, 2, 6>, 12> flux;  ///< B from the six potentials
  std::array<Eigen::Vector<double, 6>, 12> value;    ///< shape functions
  std::array<double, 12> volume;                     ///< 2 pi r dA [m^3]
  std::array<Point, 12> at;
  std::array<LocalMedium, 12> medium;
  double mean_magnetisation = 1.0;  ///< over the triangle
  ElementMatrix<6> mass;            ///< with the conductivity of the cell
  // At the present potential:
  std::array<Eigen::Matrix2d, 12> flux_density;  ///< rows r, z; columns real, imaginary [T] rms
  std::array<double, 12> nu, slope;              ///< EffectiveReluctivity::Value
};

/// Values at the six nodes of a cell: real parts, then imaginary.
using CellValues = std::array<double, 12>;

CellValues cell_values(const SaturatingCell& cell, const Eigen::VectorXcd& x);
void add_to(const SaturatingCell& cell, const CellValues& values, Eigen::VectorXcd& into);

/// The law at one point of a triangle with mean magnetisation `mean`. If magnetism ends within a
/// triangle, the law at the points moves this boundary outwards (its flux would have to be the same
/// on both sides: the bound of parallel reluctances), and the law of the mean moves it inwards (the
/// same field on both sides), each by a share of the triangle. So both are mixed, as Hill does with
/// the bounds of Voigt and Reuss (Proc. Phys. Soc. A 65 (1952) 349, from memory). With three
/// quarters of the mean, the time in which a rod is heated through stays within 1 % for edges from
/// a third of its radius to a fortieth (CoupledRod in tests/published, TimeToTarget in
/// tests/cases); otherwise 1 to 3 %.
EffectiveReluctivity::Value reluctivity_in(const EffectiveReluctivity& law, double flux_rms_squared,
                                           double magnetisation, double mean);

/// Evaluates `law` (null: linear) at potentials a, into the cell; returns K(a) a.
CellValues evaluate(SaturatingCell& cell, const EffectiveReluctivity* law, const CellValues& a);

/// Reluctivities for which K is nearest to the derivative of K(a) a: nu + |B| nu'/2.
std::array<double, 12> middle_reluctivity(const SaturatingCell& cell);
ElementMatrix<6> reluctance(const SaturatingCell& cell, const std::array<double, 12>& nu);

/// The derivative of K(a) a minus K(nu) for given reluctivities: symmetric 12 x 12.
struct CellRemainder {
  bool none = true;
  std::array<double, 144> matrix;  ///< unchanged if there is no remainder
};

void find_remainder(const SaturatingCell& cell, const std::array<double, 12>& nu,
                    CellRemainder& remainder);
/// Adds the product with d to `into`.
void add_remainder(const SaturatingCell& cell, const CellRemainder& remainder,
                   const Eigen::VectorXcd& d, Eigen::VectorXcd& into);

}  // namespace cw
