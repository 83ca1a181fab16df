#pragma once

#include <stdexcept>

#include "mesh/mesh.hpp"
#include "mesh/section.hpp"
#include "mesh/sizing.hpp"

namespace cw {

/// A section that cannot be meshed, or a mesh that fails its quality report; what() names the
/// region.
struct MeshError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Meshes the section with second-order triangles: thin layers along the surfaces of conductors,
/// mid-edge nodes of round regions on true circles, a graded triangulation elsewhere. Same input,
/// same mesh; concurrent calls wait for each other (Gmsh keeps global state). Throws MeshError.
Mesh generate_mesh(const Section& section, const Sizing& sizing = {});

/// Radius and centre of the open circle that `generate_mesh` uses if the section does not give
/// them.
OpenSpace enclosing(const Section& section);

}  // namespace cw
