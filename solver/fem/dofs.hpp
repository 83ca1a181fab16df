#pragma once

#include <vector>

#include "mesh/mesh.hpp"

namespace cw {

/// Numbers the unknowns in the order in which a sparse factorisation should eliminate them.
struct Dofs {
  static constexpr int fixed = -1;
  std::vector<int> of_node;  ///< unknown of each mesh node, `fixed` where the potential is zero
  int count = 0;
};

/// Numbers the unknowns of a second-order mesh without the nodes marked in `is_fixed` (one per
/// node). Minimum degree on the graph of triangle corners, which is a quarter of the size; each
/// mid-edge node comes just before the earlier of its end corners. `coupled` are nodes that are all
/// coupled to each other (the open boundary); may be empty.
Dofs number_dofs(const Mesh& mesh, const std::vector<char>& is_fixed,
                 const std::vector<int>& coupled);

}  // namespace cw
