#pragma once

#include "solver/field/field_solution.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// Lowest, mean and highest Joule heat per volume in a region, strand losses not included. The
/// extremes are over the nodes of its triangles; the mean is the loss divided by the volume.
PowerDensity power_density(const Mesh& mesh, const FieldSolution& field, RegionId region);

}  // namespace cw
