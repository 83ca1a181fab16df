#pragma once

#include <cstddef>

namespace cw::bench {

/// The yardstick: a second-order mesh of the seven-turn problem that does not depend on the
/// product, made by Gmsh alone. Geometric layers in rod and tube walls, the rest by Delaunay.
/// Timings are multiples of its time, so that they mean the same on a slow, fast or busy machine.
struct FixedMesh {
  std::size_t nodes = 0, triangles = 0;
  std::size_t unknowns = 0;  ///< nodes off the axis and off the border of the box
};

FixedMesh make_fixed_mesh();

}  // namespace cw::bench
