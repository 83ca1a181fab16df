#pragma once

#include <Eigen/Core>
#include <array>
#include <map>
#include <vector>

#include "mesh/mesh.hpp"
#include "solver/thermal/enthalpy.hpp"
#include "solver/thermal/lumped_triangle.hpp"

namespace cw {

/// A region that conducts heat.
struct ThermalBody {
  RegionId region = 0;
  Material material;
};

/// The contact of two bodies that are not bonded. Bodies that touch without a contact share their
/// nodes.
struct Contact {
  RegionId one = 0, other = 0;
  double conductance = 0.0;  ///< [W/(m^2 K)]; 0: no heat passes
};

/// A piece of surface of a body: an edge of its triangles with no conducting body behind it. Edges
/// on the axis are no surface.
struct SurfaceEdge {
  std::array<int, 3> unknown;  ///< from, to, middle; the body to the left
  std::array<Point, 3> at;
  Point normal;     ///< outward, of length 1, at the middle
  RegionId region;  ///< the body
  RegionId beyond;  ///< region behind it; -1 on the border of the mesh
};

/// Both sides of a piece of an interface with a contact conductance; nodes pair up.
struct ContactEdge {
  std::array<int, 3> one, other;  ///< unknowns from, to, middle
  std::array<Point, 3> at;
  double conductance;
};

/// The conducting triangles of a mesh with unknowns of their own: one for each node and each group
/// of bodies bonded there, one for the centre of each triangle.
struct ThermalMesh {
  struct Element {
    std::array<int, 7> unknown;
    std::size_t body, triangle;  ///< index into `body`, and into Mesh::triangles
    LumpedTriangle shape;
  };
  std::vector<ThermalBody> body;
  std::vector<EnthalpyLaw> law;  ///< one per body
  std::vector<Element> elements;
  std::vector<SurfaceEdge> surface;
  std::vector<ContactEdge> contacts;
  std::vector<Point> at;   ///< one per unknown
  Eigen::VectorXd volume;  ///< [m^3] belonging to each unknown
  std::vector<int> share_start;
  std::vector<int> share_body;      ///< per unknown, in [share_start[i], share_start[i + 1])
  std::vector<double> share_value;  ///< their shares of the volume
  std::map<std::pair<int, RegionId>, int> unknown_of;  ///< by mesh node and region
  std::size_t mesh_triangles = 0;

  [[nodiscard]] int unknowns() const { return static_cast<int>(volume.size()); }
};

/// Throws std::invalid_argument if a region has no triangles or is listed twice, or if a contact
/// names a region that is not a body, has a conductance below 0 or joins a region to itself.
ThermalMesh make_thermal_mesh(const Mesh& mesh, std::vector<ThermalBody> bodies,
                              const std::vector<Contact>& contacts);

/// Direction of a surface's normal, within 45 degrees.
enum class Facing { outward, inward, up, down };

/// Surface edges (indices into `surface`) of a body that face this way; `z` limits their middles.
std::vector<int> surface_of(const ThermalMesh& mesh, RegionId region, Facing facing);
/// All of a body's surface.
std::vector<int> surface_of(const ThermalMesh& mesh, RegionId region);

/// A quadrature point of a surface edge.
struct WallPoint {
  std::array<int, 3> unknown;
  std::array<double, 3> value;  ///< shape functions
  Point at;
  double area;          ///< of the ring that it represents [m^2]
  double below, above;  ///< range of z that it represents [m], below <= above
};

/// Gauss points of the edges, three on each, exact to degree 5.
std::vector<WallPoint> surface_points(const ThermalMesh& mesh, const std::vector<int>& edges);

/// Area of surface edges turned about the axis [m^2].
double surface_area(const ThermalMesh& mesh, const std::vector<int>& edges);

}  // namespace cw
