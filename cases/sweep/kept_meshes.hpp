#pragma once

#include <deque>
#include <optional>

#include "mesh/mesh.hpp"
#include "mesh/section.hpp"
#include "mesh/sizing.hpp"

namespace cw::cases {

/// A mesher that moves the rings of a mesh that many designs share (see shared_base()), where that
/// serves, and makes a new one where it does not. Which of them it is follows from the design
/// alone: its mesh is the same whoever solves it, after whatever other designs.
class KeptMeshes {
 public:
  Mesh operator()(const Section& section, const Sizing& sizing);

 private:
  struct Kept {
    Section section;
    Sizing sizing;
    std::optional<Mesh> mesh;  ///< none where the section cannot be meshed
  };
  const std::optional<Mesh>& mesh_of(const Section& section, const Sizing& sizing);

  std::deque<Kept> kept_;  ///< latest first
};

}  // namespace cw::cases
