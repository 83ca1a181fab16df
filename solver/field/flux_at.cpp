#include "solver/field/flux_at.hpp"

#include <Eigen/QR>
#include <set>
#include <stdexcept>

#include "solver/fem/triangle.hpp"
#include "solver/field/open_boundary.hpp"

namespace cw {

namespace {

constexpr std::array<std::array<double, 2>, 3> inner_points = {
    {{1. / 6, 1. / 6}, {2. / 3, 1. / 6}, {1. / 6, 2. / 3}}};

Eigen::RowVector<double, 6> second_degree(double x, double y) {
  return {1, x, y, x * x, x * y, y * y};
}

}  // namespace

FluxAt::FluxAt(const Mesh& mesh, const FieldSolution& field)
    : mesh_(mesh), field_(field), air_at_(mesh.vertices) {
  const OpenBoundary open(mesh);
  if (open.present()) series_ = open.coefficients(field.potential);
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    if (mesh.region[t] == 0)
      for (int k = 0; k < 3; ++k) air_at_[mesh.triangles[t][k]].push_back(t);
}

std::array<std::complex<double>, 2> FluxAt::operator()(Point place) const {
  if (series_.size() > 0 && distance(place, mesh_.centre) >= mesh_.open_radius)
    return exterior_flux(mesh_, series_, place);
  const auto at = find_place(mesh_, place);
  if (!at) throw std::out_of_range("no field is known at this place: it lies outside the mesh");
  if (mesh_.region[at->triangle] == 0)
    if (const auto flux = smoothed(at->triangle, place)) return *flux;
  const FieldPoint found = field_at(mesh_, field_, at->triangle, at->x, at->y);
  return {found.flux_r, found.flux_z};
}

std::optional<std::array<std::complex<double>, 2>> FluxAt::smoothed(std::size_t triangle,
                                                                    Point place) const {
  const auto& corners = mesh_.triangles[triangle];
  std::set<std::size_t> patch;
  for (int k = 0; k < 3; ++k) patch.insert(air_at_[corners[k]].begin(), air_at_[corners[k]].end());
  const double size = distance(mesh_.nodes[corners[0]], mesh_.nodes[corners[1]]);
  const auto samples = static_cast<Eigen::Index>(inner_points.size() * patch.size());
  Eigen::MatrixXd base(samples, 6), flux(samples, 4);
  Eigen::Index row = 0;
  for (const std::size_t t : patch) {
    const FieldInTriangle inside(mesh_, field_, t);
    for (const auto& [x, y] : inner_points) {
      const FieldPoint p = inside.at(x, y);
      base.row(row) = second_degree((p.at.r - place.r) / size, (p.at.z - place.z) / size);
      flux.row(row++) << p.flux_r.real(), p.flux_r.imag(), p.flux_z.real(), p.flux_z.imag();
    }
  }
  const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> fit(base);
  if (fit.rank() < base.cols()) return std::nullopt;
  const Eigen::RowVector4d found = fit.solve(flux).row(0);
  return std::array<std::complex<double>, 2>{{{found[0], found[1]}, {found[2], found[3]}}};
}

}  // namespace cw
