#pragma once

#include <Eigen/SparseCore>

#include "solver/thermal/exchange.hpp"

namespace cw {

/// Two coaxial surfaces that face each other across air, such as workpiece and sleeve: grey
/// radiation between every pair of rings by their view factor, conduction straight through the air,
/// and radiation of the inner surface out of the ends of the gap. Valid for smooth,
/// near-cylindrical walls. There is no flow in the gap, which holds to a Rayleigh number of about
/// 1700 (Ra on the width: 10 mm at a difference of 1000 K). Rings of the outer wall see each other,
/// which does not change the balance of that wall; their radiation out of the ends is left out.
struct Gap {
  std::vector<int> inner,
      outer;  ///< outward wall of the inner body, inward wall of the outer body
  double inner_emissivity = 0.8, outer_emissivity = 0.8;
  std::string radiation = "radiation to sleeve", conduction = "air to sleeve";
  std::string beyond = "radiation to surroundings";  ///< route of radiation out of the ends of the
                                                     ///< gap
  Temperature surroundings = Temperature::celsius(20.0);
};

/// Two points at one height with still air between them.
struct AirPath {
  Eigen::Index inner, outer;
  double shape;  ///< [m], times k (T1 - T2)
};

/// The pairs of a gap, ready to evaluate.
struct GapTerm {
  int radiation = 0, conduction = 0;  ///< routes; power is positive from inner to outer
  std::vector<WallPoint> inner, outer;
  std::vector<int> inner_unknown, outer_unknown;
  Eigen::SparseMatrix<double> inner_shape, outer_shape;  ///< points x unknowns of the wall
  Eigen::MatrixXd view;                                  ///< [m^2], times sigma (T1^4 - T2^4)
  Eigen::VectorXd seen_by_inner, seen_by_outer;          ///< sums of its rows and columns
  std::vector<AirPath> across;
};

/// The pairs, and (second) the radiation past the outer wall as an ordinary term.
std::pair<GapTerm, SurfaceTerm> terms_of(const ThermalMesh& mesh, const Gap& gap,
                                         std::vector<std::string>& routes);

void add_loss(const GapTerm& term, const Eigen::VectorXd& kelvin, Eigen::VectorXd& given,
              Eigen::VectorXd& by_route);
/// Slopes with one conductance for both rings of a pair, the derivative at the hotter one. The
/// exact derivatives are not symmetric, as the matrix must be, and a smaller conductance would
/// overshoot.
void add_slope(const GapTerm& term, const Eigen::VectorXd& kelvin, HeatTangent& tangent);

}  // namespace cw
