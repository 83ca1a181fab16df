#pragma once

#include <vector>

#include "solver/field/field_solution.hpp"

namespace cw {

/// Field at the middle of one edge of a body's surface.
struct SurfacePoint {
  Point at;
  double field_rms = 0.0;  ///< tangential H [A/m]
  double area = 0.0;       ///< of the ring the edge sweeps [m^2]
};

/// Tangential H round the surface of a region (not on the axis), taken at the middles of edges, so
/// without the singular peaks at corners. If the neighbour is a linear region, its side is used:
/// tangential H is continuous, and inside a saturating body it changes within one triangle.
std::vector<SurfacePoint> surface_fields(const Mesh& mesh, const FieldSolution& field,
                                         RegionId region);

/// The largest of them [A/m] rms; 0 for a region without triangles.
double largest_surface_field(const Mesh& mesh, const FieldSolution& field, RegionId region);

/// Joule loss of a region within `depth` of its surface [W].
double loss_within(const Mesh& mesh, const FieldSolution& field, RegionId region, double depth);

}  // namespace cw
