#include "cases/sweep/kept_meshes.hpp"

#include "mesh/generate.hpp"
#include "mesh/move_rings.hpp"

namespace cw::cases {

namespace {

bool same(const Sizing& a, const Sizing& b) {
  return a.first_layer == b.first_layer && a.growth == b.growth && a.layers == b.layers &&
         a.corner == b.corner && a.clearance == b.clearance && a.round == b.round;
}

}  // namespace

Mesh KeptMeshes::operator()(const Section& section, const Sizing& sizing) {
  constexpr std::size_t most = 8;
  for (const Kept& kept : kept_) {
    if (!same(kept.sizing, sizing)) continue;
    if (auto moved = move_rings(kept.mesh, kept.section, section)) return std::move(*moved);
  }
  Mesh mesh = generate_mesh(section, sizing);
  kept_.push_front({section, sizing, mesh});
  if (kept_.size() > most) kept_.pop_back();
  return mesh;
}

}  // namespace cw::cases
