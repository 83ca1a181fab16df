#include "solver/coupled/warm_bodies.hpp"

#include <memory>

#include "materials/effective_permeability.hpp"

namespace cw {

namespace {

/// The point of TriangleRule nearest to a point of the reference triangle.
std::size_t nearest_node(double x, double y) {
  std::size_t best = 0;
  double least = 1e300;
  for (std::size_t q = 0; q < 12; ++q) {
    const auto& node = TriangleRule::nodes()[q];
    const double dx = node.x - x, dy = node.y - y, away = dx * dx + dy * dy;
    if (away >= least) continue;
    least = away;
    best = q;
    if (away == 0.0) break;
  }
  return best;
}

}  // namespace

std::vector<SaturatingRegion> at_temperatures(const Mesh& mesh, std::span<const WarmBody> bodies,
                                              const PointValues& kelvin) {
  using PointMedia = std::vector<std::array<LocalMedium, 12>>;
  const auto media = std::make_shared<PointMedia>(mesh.triangles.size());
  std::vector<SaturatingRegion> regions;
  for (const WarmBody& body : bodies) {
    const bool magnetic = body.law != nullptr;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      if (mesh.region[t] != body.region) continue;
      for (std::size_t q = 0; q < 12; ++q) {
        const Temperature here{kelvin[t][q]};
        (*media)[t][q] = {body.material.conductivity(here),
                          magnetic ? magnetisation_share(*body.material.magnetisation, here) : 0.0};
      }
    }
    regions.push_back({body.region, body.law, magnetic ? 1.0 : 0.0, [media](const MeshPoint& p) {
                         return (*media)[p.triangle][nearest_node(p.x, p.y)];
                       }});
  }
  return regions;
}

PointValues heat_density(const Mesh& mesh, const FieldSolution& field,
                         std::span<const SaturatingRegion> bodies) {
  PointValues density(mesh.triangles.size());
  std::vector<const SaturatingRegion*> body_of(mesh.region_name.size(), nullptr);
  for (const SaturatingRegion& body : bodies) body_of[body.region] = &body;
  const double square = field.frequency.omega() * field.frequency.omega();
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    density[t].fill(0.0);
    const SaturatingRegion* body = body_of[mesh.region[t]];
    if (body == nullptr) continue;
    const TriangleSamples samples = potential_samples(mesh, t);
    for (std::size_t q = 0; q < 12; ++q) {
      const auto& node = TriangleRule::nodes()[q];
      std::complex<double> a = 0;
      for (int i = 0; i < 6; ++i) a += samples[q].value[i] * field.potential[mesh.triangles[t][i]];
      const double sigma =
          medium_at(*body, field.media[body->region], {t, node.x, node.y, {}}).conductivity;
      density[t][q] = square * sigma * std::norm(a);
    }
  }
  return density;
}

}  // namespace cw
