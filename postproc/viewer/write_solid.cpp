#include "postproc/viewer/write_solid.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <set>
#include <utility>

#include "postproc/viewer/poly_file.hpp"
#include "solver/fem/triangle.hpp"

namespace cw {

namespace {

constexpr double turned_by =
    1.5 * std::numbers::pi;  ///< three quarters; the rest shows the section
constexpr int round_steps = 48;

/// Values at a node of the section.
struct Node {
  Point at;
  double power, flux, kelvin;
};

class Solid {
 public:
  explicit Solid(const FieldView& view) : view_(view) {
    surface_.at_points = {{power_density_array, {}}, {"|B| [T rms]", {}}, {"temperature [K]", {}}};
    surface_.at_polygons = {{"region id", {}}};
    surface_.region_names = view.mesh.region_name;
    surface_.state = view.name;
  }

  void add(RegionId region) {
    region_ = region;
    std::set<std::pair<int, int>> edges;
    const Mesh& mesh = view_.mesh;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      if (mesh.region[t] != region) continue;
      const auto& n = mesh.triangles[t];
      for (std::size_t k = 0; k < 3; ++k) edges.emplace(n[k], n[(k + 1) % 3]);
    }
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      if (mesh.region[t] != region) continue;
      add_faces(t);
      const auto& n = mesh.triangles[t];
      for (std::size_t k = 0; k < 3; ++k)
        if (!edges.contains({n[(k + 1) % 3], n[k]})) add_band(t, k);
    }
  }

  [[nodiscard]] const PolySurface& surface() const { return surface_; }

 private:
  [[nodiscard]] Node node(std::size_t t, std::size_t k) const {
    const FieldPoint p = field_at(view_.mesh, view_.field, t, node_places[k][0], node_places[k][1]);
    return {view_.mesh.nodes[static_cast<std::size_t>(view_.mesh.triangles[t][k])], p.power_density,
            p.flux_rms(), view_.regions[static_cast<std::size_t>(region_)].temperature.kelvin};
  }

  std::int64_t put(const Node& n, double angle) {
    surface_.points.push_back(in_the_room(n.at.r, angle, n.at.z));
    surface_.at_points[0].values.push_back(n.power);
    surface_.at_points[1].values.push_back(n.flux);
    surface_.at_points[2].values.push_back(n.kelvin);
    return static_cast<std::int64_t>(surface_.points.size()) - 1;
  }

  void polygon(std::vector<std::int64_t> points) {
    surface_.polygons.push_back(std::move(points));
    surface_.at_polygons[0].values.push_back(region_);
  }

  /// The triangle as four straight ones on both cut faces.
  void add_faces(std::size_t t) {
    constexpr std::array<std::array<std::size_t, 3>, 4> quarters{
        {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}}};
    for (const double angle : {0.0, turned_by}) {
      std::array<std::int64_t, 6> at{};
      for (std::size_t k = 0; k < 6; ++k) at[k] = put(node(t, k), angle);
      for (const auto& q : quarters) polygon({at[q[0]], at[q[1]], at[q[2]]});
    }
  }

  /// Edge k of the triangle turned about the axis; nothing along the axis itself.
  void add_band(std::size_t t, std::size_t k) {
    const std::array<Node, 3> line{node(t, k), node(t, k + 3), node(t, (k + 1) % 3)};
    if (line[0].at.r <= 0.0 && line[2].at.r <= 0.0) return;
    std::array<std::int64_t, 3> before{};
    for (int i = 0; i <= round_steps; ++i) {
      std::array<std::int64_t, 3> now{};
      for (std::size_t j = 0; j < 3; ++j) now[j] = put(line[j], turned_by * i / round_steps);
      if (i > 0)
        for (std::size_t j = 0; j < 2; ++j) polygon({before[j], now[j], now[j + 1], before[j + 1]});
      before = now;
    }
  }

  const FieldView& view_;
  RegionId region_ = 0;
  PolySurface surface_;
};

}  // namespace

void write_solid(const std::filesystem::path& path, const FieldView& view) {
  Solid solid(view);
  for (std::size_t region = 1; region < view.mesh.region_name.size(); ++region)
    if (!view.mesh.region_name[region].starts_with("turn."))
      solid.add(static_cast<RegionId>(region));
  write_poly_file(path, solid.surface());
}

}  // namespace cw
