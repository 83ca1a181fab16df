#pragma once

#include <Eigen/Core>
#include <string>
#include <variant>
#include <vector>

#include "solver/thermal/convection.hpp"
#include "solver/thermal/heat_matrix.hpp"
#include "solver/thermal/turn_wall.hpp"

namespace cw {

/// Stefan-Boltzmann constant [W/(m^2 K^4)], CODATA 2018, exact (from memory).
inline constexpr double stefan_boltzmann = 5.670374419e-8;

/// Heat transfer to a fluid of fixed temperature with a known coefficient [W/(m^2 K)].
struct Film {
  double coefficient = 0.0;
  Temperature fluid = Temperature::celsius(20.0);
};

/// Grey radiation to large surroundings of one temperature.
struct Grey {
  double emissivity = 0.8;
  Temperature surroundings = Temperature::celsius(20.0);
};

/// Grey radiation to a coaxial cylinder of fixed temperature that surrounds the surface from `low`
/// to `high` (the coil), and past it or through its openings to the surroundings: see
/// CoilEnclosure. At other heights between `own_low` and `own_high` the surface is taken to have
/// the same temperature.
struct GreyPastCylinder {
  double emissivity = 0.8;
  double radius = 0.0, low = 0.0, high = 0.0;  ///< of the cylinder [m]
  OpenWall wall{0.5, 0.0};                     ///< turns and the gaps between them
  Temperature cylinder = Temperature::celsius(20.0);
  Temperature surroundings = Temperature::celsius(20.0);
  double own_low = -1e9, own_high = 1e9;             ///< of the surface [m]
  std::string beyond = "radiation to surroundings";  ///< route of the radiation past the cylinder
};

/// Heat that leaves a surface, and the route to which it is booked. Several exchanges may share a
/// surface or a route.
struct Exchange {
  std::string route;
  std::vector<int> edges;  ///< indices into ThermalMesh::surface
  std::variant<Film, NaturalConvection, Grey, GreyPastCylinder> law;
};

/// Flux [W/m^2] out of a surface and its slope [W/(m^2 K)].
struct Flux {
  double value = 0.0, slope = 0.0;
};

/// Natural convection from a table with one line per kelvin: the correlation consists of powers and
/// would cost more than conduction.
class TabulatedConvection {
 public:
  explicit TabulatedConvection(const NaturalConvection& law);
  [[nodiscard]] Flux at(double kelvin) const;

 private:
  std::vector<double> flux_;  ///< [W/m^2]
};

/// One law at the points of a surface: the unit in which exchanges are evaluated.
struct SurfaceTerm {
  int route;
  std::variant<Film, TabulatedConvection, Grey> law;
  std::vector<WallPoint> points;
  std::vector<double> factor;  ///< one per point
};

Flux flux_of(const Film& law, double kelvin);
Flux flux_of(const TabulatedConvection& law, double kelvin);
Flux flux_of(const Grey& law, double kelvin);

/// Index of a route; adds the route if it is new.
int route_of(std::vector<std::string>& routes, const std::string& name);

/// Terms of an exchange. Throws std::invalid_argument for impossible lengths, emissivities or
/// coefficients.
std::vector<SurfaceTerm> terms_of(const ThermalMesh& mesh, const Exchange& exchange,
                                  std::vector<std::string>& routes);

/// Adds the powers of a term to the loss of each unknown [W] and to its route [W].
void add_loss(const SurfaceTerm& term, const Eigen::VectorXd& kelvin, Eigen::VectorXd& given,
              Eigen::VectorXd& by_route);
/// Slopes of the losses of the unknowns and of the powers of the routes. Sums of columns of the
/// matrix equal sums over the routes that leave; therefore the ledger closes to rounding.
struct HeatTangent {
  HeatMatrix matrix;         ///< [W/K]
  Eigen::MatrixXd by_route;  ///< routes x unknowns [W/K]
};
void add_slope(const SurfaceTerm& term, const Eigen::VectorXd& kelvin, HeatTangent& tangent);

/// Temperature at a surface point [K].
double kelvin_at(const WallPoint& point, const Eigen::VectorXd& kelvin);

}  // namespace cw
