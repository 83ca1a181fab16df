#include "solver/field/flux_at.hpp"

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
  if (const auto at = find_place(mesh_, place)) {
    const FieldPoint found = field_at(mesh_, field_, at->triangle, at->x, at->y);
    return {found.flux_r, found.flux_z};
  }
  throw std::out_of_range("no field is known at this place: it lies outside the mesh");
}

}  // namespace cw
