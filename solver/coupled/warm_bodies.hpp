#pragma once

#include <span>

#include "materials/material.hpp"
#include "solver/field/field_solution.hpp"
#include "solver/field/saturating_system.hpp"

namespace cw {

/// Values at the points of TriangleRule, one row per triangle of the mesh.
using PointValues = std::vector<std::array<double, 12>>;

/// A conducting body whose conductivity and magnetism depend on the local temperature.
struct WarmBody {
  RegionId region = 0;
  Material material;
  const EffectiveReluctivity* law = nullptr;  ///< null: not magnetic
};

/// The bodies in the form that the field problem needs, with `kelvin` at their quadrature points;
/// elsewhere in a triangle the nearest of these points counts. The laws must outlive the result.
std::vector<SaturatingRegion> at_temperatures(const Mesh& mesh, std::span<const WarmBody> bodies,
                                              const PointValues& kelvin);

/// Heat per volume [W/m^3] in these bodies, w^2 sigma |A|^2 with the conductivity of each point;
/// 0 elsewhere.
PointValues heat_density(const Mesh& mesh, const FieldSolution& field,
                         std::span<const SaturatingRegion> bodies);

}  // namespace cw
