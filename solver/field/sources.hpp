#pragma once

#include <Eigen/Core>

#include "solver/field/eddy_system.hpp"

namespace cw {

/// Right-hand sides over unknowns; a potential solves (K + j w M) A = f.

/// Unit voltage round a massive region: f_i = int sigma N_i dS [S m]. Used with `loop_conductance`.
Eigen::VectorXd voltage_source(const EddySystem& system, RegionId region);
/// Conductance of the region as a closed ring, that is, its current with A = 0 at 1 V: int sigma/(2
/// pi r) dS [S].
double loop_conductance(const EddySystem& system, RegionId region);

/// 1 A spread evenly over the section of the region: f_i = 2 pi int r N_i dS / section [m].
Eigen::VectorXd current_source(const EddySystem& system, RegionId region);
/// Section of the region in the half-plane [m^2].
double section_area(const Mesh& mesh, RegionId region);

/// 1 A in a filament at p: f_i = 2 pi r N_i(p) [m]. Throws SolveError when p lies in no triangle.
Eigen::VectorXd filament_source(const EddySystem& system, Point p);

/// H_z = 1 A/m imposed on the outer side of a Box domain whose outer side is natural [A].
Eigen::VectorXd surface_field_source(const EddySystem& system);

/// B_z = 1 T far away, for an open domain [A].
Eigen::VectorXd uniform_field_source(const EddySystem& system);

}  // namespace cw
