#pragma once

#include <vector>

#include "mesh/layers.hpp"

namespace cw {

/// Options of the triangulation of faces.
struct Fill {
  enum class Order { delaunay, frontal } order = Order::delaunay;  ///< in which nodes are placed
  unsigned seed = 1;  ///< of the order among equal choices
};

/// Triangulates the faces with their border edges kept as they are; interior edges grade between
/// border edges. New nodes and the triangles are appended to `mesh`. Throws MeshError.
void fill_faces(const std::vector<Face>& faces, Fill how, Triangulation& mesh);

}  // namespace cw
