#pragma once

#include <vector>

#include "mesh/mesh.hpp"

namespace cw {

/// The mesh with every marked edge split in two. Marks are by mid-edge node: edge k belongs to node
/// mesh.vertices + k. A triangle with one, two or three marked edges becomes two, three or four;
/// its neighbours are not affected. If a triangle would become flat (an angle above 150 degrees
/// that it did not have), its longest edge is split too. Curved edges stay on their circle.
/// Triangles keep their order, children in the place of their parent. Throws MeshError if the
/// result is not sound (quality.hpp).
Mesh split_edges(const Mesh& mesh, std::vector<char> marked);

}  // namespace cw
