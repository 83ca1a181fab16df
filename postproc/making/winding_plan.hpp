#pragma once

#include <optional>

#include "solver/heater/coil.hpp"

namespace cw {

/// Data for winding a coil; SI units.
struct WindingPlan {
  double bend_radius = 0.0;               ///< tightest, of the middle of the conductor [m]
  double bend_ratio = 0.0;                ///< bend_radius over the conductor's radial size
  std::optional<double> spring_back;      ///< share of the diameter; soft round copper tube only
  std::optional<double> former_diameter;  ///< for a helix [m]; allows for spring-back if it is
                                          ///< known
  std::optional<double> spacer;           ///< thickness between turns [m]
  double lead_angle = 0.0;      ///< between the two ends, seen along the axis, 0 to 360 [degrees]
  double winding_length = 0.0;  ///< along the winding, without leads [m]
  double leads_length = 0.0;    ///< both leads together [m]
  double allowance = 0.0;       ///< for bends, cuts and hose ends [m]
  double length_to_buy = 0.0;   ///< rounded up to 0.1 m
};

/// Common practice, no source: a tenth of the length for bends and cuts, 150 mm at each end for
/// holding the tube and for a hose.
inline constexpr double allowance_share = 0.1, allowance_per_end = 0.15;
/// Tightest bend of empty soft copper tube by hand, mean radius over diameter (filled with sand:
/// Conductor::least_bend()): common practice, no source.
inline constexpr double least_bend_by_hand = 3.0;

WindingPlan winding_plan(const Coil& coil);

/// Radius to which to wind the middle of the conductor so that it has `radius` after release [m];
/// equal to `radius` if its spring-back is not known.
double wound_radius(const Coil& coil, double radius);

}  // namespace cw
