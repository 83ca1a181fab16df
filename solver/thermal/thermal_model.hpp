#pragma once

#include <functional>
#include <span>

#include "solver/thermal/gap.hpp"

namespace cw {

/// Surfaces kept at a temperature, for checks and for walls that water cools.
struct Hold {
  std::string route;  ///< route to which its heat is booked; negative if the surface heats the body
  std::vector<int> edges;  ///< indices into ThermalMesh::surface
  Temperature at;
};

/// Boundary conditions of a thermal mesh. Surfaces in none of these are insulated.
struct ThermalBoundary {
  std::vector<Exchange> exchanges;
  std::vector<Gap> gaps;
  std::vector<Hold> holds;
};

/// A named route of heat.
struct Route {
  std::string name;
  bool leaves = true;  ///< false: from one body to another, so not part of the balance
};

/// Powers at one moment [W].
struct HeatFlows {
  Eigen::VectorXd into;      ///< net into each unknown
  Eigen::VectorXd by_route;  ///< one per route
};

/// Temperatures [K] and dT/dh [K m^3/J] of the unknowns.
struct Warmths {
  Eigen::VectorXd kelvin, slope;
};

/// Conduction in axisymmetric bodies with their losses: V dh/dt = -K(T(h)) T + q - losses, h the
/// enthalpy at every unknown [J/m^3], V the volume that belongs to it. Built once, never changed.
/// It does not depend on the field model: the source is a vector of nodal powers [W].
class ThermalModel {
 public:
  /// Throws std::invalid_argument with the route's name.
  ThermalModel(ThermalMesh mesh, const ThermalBoundary& boundary);

  [[nodiscard]] const ThermalMesh& mesh() const { return mesh_; }
  [[nodiscard]] const std::vector<Route>& routes() const { return routes_; }
  [[nodiscard]] const std::vector<char>& held() const { return held_; }

  /// Enthalpies with all bodies at one temperature; held surfaces at theirs.
  [[nodiscard]] Eigen::VectorXd enthalpy_at(Temperature uniform) const;
  /// Enthalpies of given temperatures, one per unknown [K]; held surfaces at theirs.
  [[nodiscard]] Eigen::VectorXd enthalpy_of(const Eigen::VectorXd& kelvin) const;
  [[nodiscard]] Warmths warmths(const Eigen::VectorXd& enthalpy) const;
  /// Temperature of one unknown at an enthalpy [K].
  [[nodiscard]] double kelvin(int unknown, double enthalpy) const;

  /// Nodal powers [W] of a power density [W/m^3] at the points of TriangleRule, one row per
  /// triangle of the mesh from which the thermal mesh was made; rows outside the bodies are not
  /// read.
  [[nodiscard]] Eigen::VectorXd load(std::span<const std::array<double, 12>> density) const;
  /// Nodal powers of a flux into a surface [W/m^2].
  [[nodiscard]] Eigen::VectorXd surface_load(const std::vector<int>& edges, double flux) const;

  [[nodiscard]] HeatFlows balance(const Eigen::VectorXd& kelvin, const Eigen::VectorXd& load) const;
  /// Structure for `tangent`.
  [[nodiscard]] HeatTangent make_tangent() const;
  /// -d(into)/dT and d(by_route)/dT with fixed conductivities, and with one conductance for both
  /// sides of a gap. Routes of held surfaces are left out; they follow from the rows of their
  /// unknowns.
  void tangent(const Eigen::VectorXd& kelvin, HeatTangent& tangent) const;
  /// Route that holds an unknown; -1 if it is free.
  [[nodiscard]] const std::vector<int>& hold_routes() const { return hold_route_; }

  /// Energy above that of all bodies at 20 degC [J], of all and of one body.
  [[nodiscard]] double stored(const Eigen::VectorXd& enthalpy) const;
  [[nodiscard]] double stored(const Eigen::VectorXd& enthalpy, std::size_t body) const;
  [[nodiscard]] std::span<const VolumeShare> shares(int unknown) const;

  /// Temperatures [K] at the points of TriangleRule, one row per triangle of the whole mesh;
  /// triangles outside the bodies have 0.
  [[nodiscard]] std::vector<std::array<double, 12>> kelvin_at_points(
      const Eigen::VectorXd& kelvin) const;

 private:
  void add_holds(const std::vector<Hold>& holds);
  void add_conduction(const Eigen::VectorXd& kelvin, Eigen::VectorXd& into) const;
  [[nodiscard]] double conductivity(std::size_t body, double kelvin) const;

  /// Lower triangle of a 7 x 7 matrix, row after row.
  using Packed = std::array<double, 28>;
  /// Conduction matrices of an element for a conductivity that is 1 W/(m K) in the middle of one
  /// side and 0 in the middles of the others, linear between. Weighted with the conductivities of
  /// the sides they sum to the element's matrix.
  using SideMatrices = std::array<Packed, 3>;
  [[nodiscard]] static SideMatrices side_matrices(const LumpedTriangle& shape);
  [[nodiscard]] Packed conduction_matrix(std::size_t element, const Eigen::VectorXd& kelvin) const;

  ThermalMesh mesh_;
  std::vector<SideMatrices> sides_;                ///< per element
  std::vector<std::vector<double>> conductivity_;  ///< per body, one value per kelvin
  std::vector<VolumeShare> shares_;
  std::vector<SurfaceTerm> surfaces_;
  std::vector<GapTerm> gaps_;
  std::vector<char> held_;
  std::vector<int> hold_route_;      ///< per unknown
  std::vector<double> hold_kelvin_;  ///< per unknown
  std::vector<Route> routes_;
};

}  // namespace cw
