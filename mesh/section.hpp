#pragma once

#include <limits>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "mesh/mesh.hpp"
#include "mesh/planar/shape.hpp"
#include "mesh/sizing.hpp"

namespace cw {

struct SectionRegion {
  std::string name;  ///< unique; "air" is taken
  Shape shape;
  /// Skin depth at the surface [m]; infinity where no eddy current flows: no layers are laid then.
  double skin_depth = std::numeric_limits<double>::infinity();
  /// Longest edge wanted inside [m]; infinity leaves it to the surroundings.
  double largest_edge = std::numeric_limits<double>::infinity();
  std::optional<BuriedSkin> buried_skin = std::nullopt;
  /// Bends the field at its surface though no eddy current flows: it carries a given current, or is
  /// magnetic. Conductors do anyway.
  bool bends_field = false;
};

/// The half-plane inside a circle about a point of the axis, empty space outside it.
struct OpenSpace {
  double centre_z = 0.0;
  double radius = 0.0;  ///< [m]; 0: chosen to hold everything with room to spare
};

/// 0 < r < radius, bottom < z < top: for checks against closed forms; top and bottom are cut
/// planes, so bodies that reach them go on beyond and get no layer there.
struct Box {
  double radius = 0.0, bottom = 0.0, top = 0.0;  ///< [m]
};

/// The named regions of the half-plane; everything not named is air.
struct Section {
  std::vector<SectionRegion> regions;
  std::variant<OpenSpace, Box> domain = OpenSpace{};
};

}  // namespace cw
