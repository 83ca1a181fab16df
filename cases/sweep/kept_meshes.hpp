#pragma once

#include <deque>
#include <optional>

#include "solver/run/solve_states.hpp"

namespace cw::cases {

/// Sets up problems on a mesh that many designs share (see shared_base()), with its rings moved, if
/// that is suitable, else on a new mesh. The choice depends only on the design, so its mesh is the
/// same whoever solves it, after any other designs.
class KeptMeshes {
 public:
  MeshedSystem operator()(const Section& section, const Sizing& sizing, const Media& media);

 private:
  struct Kept {
    Section section;
    Sizing sizing;
    std::optional<Mesh> mesh;                            ///< none if the section cannot be meshed
    std::shared_ptr<const SystemShape> shape = nullptr;  ///< of the first system on it
  };
  Kept& kept_for(const Section& section, const Sizing& sizing);

  std::deque<Kept> kept_;  ///< latest first
};

}  // namespace cw::cases
