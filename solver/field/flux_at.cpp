#include "solver/field/flux_at.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/fem/triangle.hpp"
#include "solver/field/open_boundary.hpp"

namespace cw {

FluxAt::FluxAt(const Mesh& mesh, const FieldSolution& field) : mesh_(mesh), field_(field) {
  const OpenBoundary open(mesh);
  if (open.present()) series_ = open.coefficients(field.potential);
}

std::array<std::complex<double>, 2> FluxAt::operator()(Point place) const {
  if (series_.size() > 0 && distance(place, mesh_.centre) >= mesh_.open_radius)
    return exterior_flux(mesh_, series_, place);
  for (std::size_t t = 0; t < mesh_.triangles.size(); ++t) {
    const TrianglePoints p = triangle_points(mesh_, t);
    const auto [left, right] = std::minmax({p[0].r, p[1].r, p[2].r, p[3].r, p[4].r, p[5].r});
    const auto [low, high] = std::minmax({p[0].z, p[1].z, p[2].z, p[3].z, p[4].z, p[5].z});
    const double slack = 0.2 * (right - left + high - low);  // curved sides leave the box
    if (place.r < left - slack || place.r > right + slack || place.z < low - slack ||
        place.z > high + slack)
      continue;
    const auto s = reference_point(p, place);
    if (!s) continue;
    const FieldPoint found = field_at(mesh_, field_, t, (*s)[0], (*s)[1]);
    return {found.flux_r, found.flux_z};
  }
  throw std::out_of_range("no field is known at this place: it lies outside the mesh");
}

}  // namespace cw
