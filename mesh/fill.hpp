#pragma once

#include <vector>

#include "mesh/layers.hpp"

namespace cw {

/// Triangulates the faces with their border edges kept as they are; interior edges grade between
/// border edges. New nodes and the triangles are appended to `mesh`. Throws MeshError.
void fill_faces(const std::vector<Face>& faces, Triangulation& mesh);

}  // namespace cw
