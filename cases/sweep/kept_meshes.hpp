#pragma once

#include <deque>

#include "mesh/mesh.hpp"
#include "mesh/section.hpp"
#include "mesh/sizing.hpp"

namespace cw::cases {

/// A mesher that moves the rings of a mesh it made before, where that serves (see move_rings()),
/// and makes a new one where it does not. What is moved is always a mesh as made, never one moved
/// before: changes do not add up.
class KeptMeshes {
 public:
  Mesh operator()(const Section& section, const Sizing& sizing);

 private:
  struct Kept {
    Section section;
    Sizing sizing;
    Mesh mesh;
  };
  std::deque<Kept> kept_;  ///< latest first
};

}  // namespace cw::cases
