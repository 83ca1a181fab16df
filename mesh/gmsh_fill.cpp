#include <fmt/format.h>
#include <gmsh.h>

#include <algorithm>
#include <cstdlib>
#include <limits>
#include <mutex>
#include <set>
#include <unordered_map>

#include "mesh/fill.hpp"
#include "mesh/generate.hpp"

namespace cw {

namespace {

/// Gmsh has global state: one mesh at a time.
std::mutex& gmsh_mutex() {
  static std::mutex mutex;
  return mutex;
}

/// Starts Gmsh once; every mesh uses a new model.
void start_gmsh() {
  static const bool started = [] {
    gmsh::initialize();
    gmsh::option::setNumber("General.Terminal", 0);
    gmsh::option::setNumber("General.Verbosity", 0);
    gmsh::option::setNumber("Mesh.MaxNumThreads1D", 1);
    gmsh::option::setNumber("Mesh.MaxNumThreads2D", 1);
    gmsh::option::setNumber("Mesh.MeshSizeFromPoints", 0);
    gmsh::option::setNumber("Mesh.MeshSizeExtendFromBoundary", 1);
    gmsh::option::setNumber("Mesh.RandomFactor", 1e-9);
    gmsh::option::setNumber("Geometry.AutoCoherence", 0);
    return true;
  }();
  (void)started;
}

double shortest_edge(const std::vector<Face>& faces, const Triangulation& mesh) {
  double shortest = std::numeric_limits<double>::infinity();
  for (const Face& face : faces)
    for (const NodeLoop& loop : face.loops)
      for (std::size_t k = 0; k < loop.size(); ++k)
        shortest = std::min(shortest,
                            distance(mesh.nodes[loop[k]], mesh.nodes[loop[(k + 1) % loop.size()]]));
  return shortest;
}

/// The same faces give the same triangles to the last digit, whatever was meshed before. Four
/// properties of Gmsh would prevent that:
/// - It meshes faces in parallel. This is switched off.
/// - It breaks ties with rand(), which it seeds once at its start. We seed it for each mesh.
/// - If cross products of border edges are below an absolute limit, it fits the plane of the face
///   to the nodes in their order in memory. We use the shortest border edge as unit of length.
/// - This limit depends on the model that was synchronised last. We synchronise the points of this
///   model first.
class Filler {
 public:
  Filler(const std::vector<Face>& faces, Fill how, Triangulation& mesh)
      : faces_(faces), mesh_(mesh), unit_(shortest_edge(faces, mesh)) {
    std::srand(how.seed);
    // Delaunay takes half the time of frontal, with the same accuracy here.
    gmsh::option::setNumber("Mesh.Algorithm", how.order == Fill::Order::delaunay ? 5 : 6);
  }

  void run() {
    gmsh::model::add("section");
    add_points();
    gmsh::model::geo::synchronize();
    std::vector<int> surfaces;
    for (const Face& face : faces_) {
      std::vector<int> loops;
      for (const NodeLoop& loop : face.loops) loops.push_back(add_loop(loop));
      surfaces.push_back(gmsh::model::geo::addPlaneSurface(loops));
    }
    gmsh::model::geo::synchronize();
    gmsh::model::mesh::generate(2);
    map_border_nodes();
    for (std::size_t i = 0; i < faces_.size(); ++i) collect(surfaces[i], faces_[i].region);
    gmsh::model::remove();
  }

 private:
  static int point(int node) { return node + 1; }

  void add_points() {
    std::set<int> nodes;
    for (const Face& face : faces_)
      for (const NodeLoop& loop : face.loops) nodes.insert(loop.begin(), loop.end());
    for (const int node : nodes) {
      const Point at = (1 / unit_) * mesh_.nodes[node];
      gmsh::model::geo::addPoint(at.r, at.z, 0, 0, point(node));
    }
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
    // Point entities are in the order of their tags, one node each.
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

  void collect(int surface, RegionId region) {
    std::vector<std::size_t> tags;
    std::vector<double> xyz, parameters;
    gmsh::model::mesh::getNodes(tags, xyz, parameters, 2, surface);
    for (std::size_t k = 0; k < tags.size(); ++k)
      node_of_[tags[k]] = mesh_.add_node({unit_ * xyz[3 * k], unit_ * xyz[3 * k + 1]});

    std::vector<std::size_t> elements, corners;
    gmsh::model::mesh::getElementsByType(2, elements, corners, surface);
    for (std::size_t k = 0; k + 2 < corners.size(); k += 3)
      mesh_.add_triangle(node_of_.at(corners[k]), node_of_.at(corners[k + 1]),
                         node_of_.at(corners[k + 2]), region);
  }

  const std::vector<Face>& faces_;
  Triangulation& mesh_;
  double unit_;  ///< of length, for Gmsh [m]
  std::unordered_map<std::uint64_t, int> lines_;
  std::unordered_map<std::size_t, int> node_of_;
};

/// After a failure the model may be gone already; this is not a second failure.
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
    Filler(faces, how, mesh).run();
  } catch (const std::string& message) {  // Gmsh 4.8 throws strings
    drop_model();
    throw MeshError(fmt::format("the section cannot be triangulated: {}", message));
  } catch (const std::exception&) {
    drop_model();
    throw;
  }
}

}  // namespace cw
