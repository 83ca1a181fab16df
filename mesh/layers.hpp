#pragma once

#include <vector>

#include "mesh/arrangement.hpp"
#include "mesh/edge_length.hpp"
#include "mesh/triangulation.hpp"

namespace cw {

/// A closed chain of nodes; the region lies to its left.
using NodeLoop = std::vector<int>;

/// An area left to triangulate: one outer loop, counter-clockwise, and clockwise holes.
struct Face {
  RegionId region;
  std::vector<NodeLoop> loops;
};

/// Nodes along every curve, in its own direction, both ends included. Empty until they are placed.
using CurveNodes = std::vector<std::vector<int>>;

/// The mesh to which layers are added, and its geometry.
struct MeshSoFar {
  const Arrangement& arrangement;
  const EdgeLength& edge;
  CurveNodes& nodes;
  Triangulation& mesh;
};

/// Places nodes on every curve except cut planes of bodies, which get their nodes with the layers.
CurveNodes place_curve_nodes(const Arrangement& arrangement, const EdgeLength& edge,
                             const OpenSpace& open, Triangulation& mesh);

/// Makes skin layers along the surfaces of polygon region `id` and returns the core that remains to
/// fill; without layers the core is the whole region. Completes the nodes of the cut curves it
/// meets.
std::vector<NodeLoop> lay_polygon(const MeshSoFar& so_far, RegionId id,
                                  const std::vector<double>& depths);

/// Depth of layers in polygon region `id` at which they meet from opposite sides [m].
double room_for_layers(const Arrangement& arrangement, RegionId id);

/// A disc, and the data of its surroundings.
struct DiscPlan {
  Disc disc;
  RegionId id;
  double skin_depth;
  int south = -1, north = -1;  ///< nodes of its poles when the centre is on the axis
};

/// Meshes a disc region completely with rings, including the bore (as air). Returns its outer
/// circle, counter-clockwise (half circle from south to north if the centre is on the axis), and
/// appends its axis edges to `border`.
NodeLoop mesh_disc(const DiscPlan& plan, const EdgeLength& edge, const Sizing& sizing,
                   Triangulation& mesh, std::vector<BorderEdge>& border);

}  // namespace cw
