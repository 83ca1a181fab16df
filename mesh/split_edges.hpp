#pragma once

#include <vector>

#include "mesh/mesh.hpp"

namespace cw {

/// The mesh with every marked edge cut in two, marks by mid-edge node: edge k belongs to node
/// mesh.vertices + k. A triangle with one, two or three marked edges becomes two, three or four,
/// and nothing spreads to neighbours. Where a triangle would become flat (an angle above 150
/// degrees that it did not have), its longest edge is cut too. Curved edges stay on their circle.
/// Triangles keep their order, children in place of their parent. Throws MeshError when the result
/// is not sound (quality.hpp).
Mesh split_edges(const Mesh& mesh, std::vector<char> marked);

}  // namespace cw
