#include "cases/sweep/kept_meshes.hpp"

#include <algorithm>
#include <tuple>

#include "mesh/generate.hpp"
#include "mesh/move_rings.hpp"

namespace cw::cases {

namespace {

auto figures(const Sizing& s) {
  return std::tuple(s.first_layer, s.growth, s.layers, s.corner, s.corner_growth, s.clearance,
                    s.round, s.open_edges);
}

bool same(const SectionRegion& a, const SectionRegion& b) {
  const auto skins = [](const SectionRegion& r) {
    const BuriedSkin buried = r.buried_skin.value_or(BuriedSkin{});
    return std::tuple(r.skin_depth, r.largest_edge, r.buried_skin.has_value(), buried.depth,
                      buried.skin_depth);
  };
  if (a.name != b.name || a.shape.index() != b.shape.index() || skins(a) != skins(b)) return false;
  if (const auto* disc = std::get_if<Disc>(&a.shape)) {
    const auto& other = std::get<Disc>(b.shape);
    return std::tie(disc->centre, disc->radius, disc->bore) ==
           std::tie(other.centre, other.radius, other.bore);
  }
  const auto &one = std::get<Polygon>(a.shape), &other = std::get<Polygon>(b.shape);
  return one.outline == other.outline && one.holes == other.holes;
}

bool same(const Section& a, const Section& b) {
  const auto *one = std::get_if<OpenSpace>(&a.domain), *other = std::get_if<OpenSpace>(&b.domain);
  if (one == nullptr || other == nullptr || one->centre_z != other->centre_z ||
      one->radius != other->radius)
    return false;
  return std::ranges::equal(a.regions, b.regions,
                            [](const auto& x, const auto& y) { return same(x, y); });
}

}  // namespace

KeptMeshes::Kept& KeptMeshes::kept_for(const Section& section, const Sizing& sizing) {
  constexpr std::size_t most = 16;
  for (Kept& kept : kept_)
    if (figures(kept.sizing) == figures(sizing) && same(kept.section, section)) return kept;
  std::optional<Mesh> mesh;
  try {
    mesh = generate_mesh(section, sizing);
  } catch (const MeshError&) {
    // Rings of a shared base may touch although those of the design do not.
  }
  kept_.push_front({section, sizing, std::move(mesh)});
  if (kept_.size() > most) kept_.pop_back();
  return kept_.front();
}

MeshedSystem KeptMeshes::operator()(const Section& section, const Sizing& sizing,
                                    const Media& media) {
  const Section base = shared_base(section);
  Kept& kept = kept_for(base, sizing);
  auto moved = kept.mesh ? move_rings(*kept.mesh, base, section) : std::nullopt;
  if (!moved) return system_from_nothing(section, sizing, media);
  MeshedSystem made;
  made.mesh = std::make_unique<Mesh>(std::move(*moved));
  if (kept.shape) {
    made.system = std::make_unique<EddySystem>(*made.mesh, media, kept.shape);
  } else {
    made.system = std::make_unique<EddySystem>(*made.mesh, media);
    kept.shape = made.system->shape();
  }
  return made;
}

}  // namespace cw::cases
