#include <fmt/format.h>
#include <gmsh.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <mutex>
#include <random>
#include <tuple>
#include <unordered_map>
#include <unordered_set>

#include "mesh/fill.hpp"
#include "mesh/generate.hpp"

namespace cw {

namespace {

/// Gmsh is global: one mesh at a time.
std::mutex& gmsh_mutex() {
  static std::mutex mutex;
  return mutex;
}

/// Started once, a fresh model for every mesh.
void start_gmsh() {
  static const bool started = [] {
    gmsh::initialize();
    gmsh::option::setNumber("General.Terminal", 0);
    gmsh::option::setNumber("General.Verbosity", 0);
    gmsh::option::setNumber("Mesh.MeshSizeFromPoints", 0);
    gmsh::option::setNumber("Mesh.MeshSizeExtendFromBoundary", 1);
    gmsh::option::setNumber("Mesh.RandomFactor", 1e-9);
    gmsh::option::setNumber("Geometry.AutoCoherence", 0);
    return true;
  }();
  (void)started;
}

class Filler {
 public:
  Filler(Fill how, Triangulation& mesh) : mesh_(mesh), random_(how.seed) {
    // Delaunay takes half the time of frontal, for the same accuracy here.
    gmsh::option::setNumber("Mesh.Algorithm", how.order == Fill::Order::delaunay ? 5 : 6);
  }

  void run(const std::vector<Face>& faces) {
    find_nudges(faces);
    gmsh::model::add("section");
    std::vector<int> surfaces;
    for (const Face& face : faces) {
      std::vector<int> loops;
      for (const NodeLoop& loop : face.loops) loops.push_back(add_loop(loop));
      surfaces.push_back(gmsh::model::geo::addPlaneSurface(loops));
    }
    gmsh::model::geo::synchronize();
    gmsh::model::mesh::generate(2);
    map_border_nodes();
    for (std::size_t i = 0; i < faces.size(); ++i) collect(surfaces[i], faces[i].region);
    gmsh::model::remove();
  }

 private:
  /// Between two triangles of the same size Gmsh's Delaunay takes the one that lies first in
  /// memory, so that the mesh of a symmetric coil would depend on what was meshed before. Gmsh
  /// therefore sees nodes of the border a little out of place, the same way each time; in the mesh
  /// they stay where they were. They move along the border, or straight borders would become
  /// ragged and slivers fit in; where it turns they stay.
  void find_nudges(const std::vector<Face>& faces) {
    constexpr double straight_enough = 0.85;  // cosine
    double shortest = 1e300;
    std::unordered_set<int> turns;
    for (const Face& face : faces)
      for (const NodeLoop& loop : face.loops)
        for (std::size_t k = 0; k < loop.size(); ++k) {
          const int node = loop[k];
          const Point to = mesh_.nodes[loop[(k + 1) % loop.size()]] - mesh_.nodes[node],
                      from = mesh_.nodes[node] -
                             mesh_.nodes[loop[(k + loop.size() - 1) % loop.size()]];
          const double length = std::hypot(to.r, to.z), before = std::hypot(from.r, from.z);
          shortest = std::min(shortest, length);
          const double cosine = (to.r * from.r + to.z * from.z) / (length * before);
          if (cosine < straight_enough) turns.insert(node);
          along_.try_emplace(node, (1 / length) * to);
        }
    for (const int node : turns) along_[node] = {};
    nudge_ = 1e-5 * shortest;
  }

  [[nodiscard]] Point shown(int node) {
    constexpr double whole = std::minstd_rand::max();
    const double share = static_cast<double>(random_()) / whole - 0.5;
    return mesh_.nodes[node] + (nudge_ * share) * along_[node];
  }

  [[nodiscard]] double rounded(double coordinate) const {
    const double step = 0.1 * nudge_;
    return step * std::round(coordinate / step);
  }

  int point(int node) {
    const auto [it, fresh] = points_.try_emplace(node, node + 1);
    if (fresh) {
      const Point at = shown(node);
      gmsh::model::geo::addPoint(at.r, at.z, 0, 0, it->second);
    }
    return it->second;
  }

  int line(int a, int b) {
    const auto [it, fresh] =
        lines_.try_emplace(edge_key(a, b), static_cast<int>(lines_.size()) + 1);
    if (fresh) gmsh::model::geo::addLine(point(a < b ? a : b), point(a < b ? b : a), it->second);
    return a < b ? it->second : -it->second;
  }

  int add_loop(const NodeLoop& loop) {
    std::vector<int> lines;
    for (std::size_t k = 0; k < loop.size(); ++k)
      lines.push_back(line(loop[k], loop[(k + 1) % loop.size()]));
    return gmsh::model::geo::addCurveLoop(lines);
  }

  void map_border_nodes() {
    std::vector<std::size_t> tags;
    std::vector<double> xyz, parameters;
    gmsh::model::mesh::getNodes(tags, xyz, parameters, 0, -1);
    // Point entities come in the order of their tags, one node each.
    std::vector<std::pair<int, int>> entities;
    gmsh::model::getEntities(entities, 0);
    for (const auto& [dim, tag] : entities) {
      std::vector<std::size_t> own;
      gmsh::model::mesh::getNodes(own, xyz, parameters, 0, tag);
      node_of_[own.at(0)] = tag - 1;
    }
    gmsh::model::mesh::getNodes(tags, xyz, parameters, 1, -1);
    if (!tags.empty())
      throw MeshError("the triangulation split a border edge; this is a defect of the mesher");
  }

  /// In an order of their own and without their last digits: both depend on where Gmsh's lie in
  /// memory.
  void collect(int surface, RegionId region) {
    std::vector<std::size_t> tags;
    std::vector<double> xyz, parameters;
    gmsh::model::mesh::getNodes(tags, xyz, parameters, 2, surface);
    std::vector<std::tuple<double, double, std::size_t>> fresh;
    for (std::size_t k = 0; k < tags.size(); ++k)
      fresh.emplace_back(rounded(xyz[3 * k]), rounded(xyz[3 * k + 1]), tags[k]);
    std::ranges::sort(fresh);
    for (const auto& [r, z, tag] : fresh) node_of_[tag] = mesh_.add_node({r, z});

    std::vector<std::size_t> elements, corners;
    gmsh::model::mesh::getElementsByType(2, elements, corners, surface);
    std::vector<std::array<int, 3>> triangles;
    for (std::size_t k = 0; k + 2 < corners.size(); k += 3) {
      std::array<int, 3> t{node_of_.at(corners[k]), node_of_.at(corners[k + 1]),
                           node_of_.at(corners[k + 2])};
      std::rotate(t.begin(), std::ranges::min_element(t), t.end());
      triangles.push_back(t);
    }
    std::ranges::sort(triangles);
    for (const auto& [a, b, c] : triangles) mesh_.add_triangle(a, b, c, region);
  }

  Triangulation& mesh_;
  double nudge_ = 0;  ///< at most half of it either way [m]
  std::unordered_map<int, Point>
      along_;  ///< direction of the border at a node; none where it turns
  std::minstd_rand random_;
  std::unordered_map<int, int> points_;
  std::unordered_map<std::uint64_t, int> lines_;
  std::unordered_map<std::size_t, int> node_of_;
};

/// After a failure the model may be gone already: that is no second failure.
void drop_model() {
  try {
    gmsh::model::remove();
  } catch (...) {  // NOLINT(bugprone-empty-catch)
  }
}

}  // namespace

void fill_faces(const std::vector<Face>& faces, Fill how, Triangulation& mesh) {
  const std::lock_guard lock(gmsh_mutex());
  if (faces.empty()) return;
  start_gmsh();
  try {
    Filler(how, mesh).run(faces);
  } catch (const std::string& message) {  // Gmsh 4.8 throws strings
    drop_model();
    throw MeshError(fmt::format("the section cannot be triangulated: {}", message));
  } catch (const std::exception&) {
    drop_model();
    throw;
  }
}

}  // namespace cw
