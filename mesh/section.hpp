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
  /// Skin depth at the surface [m]; infinity if no eddy current flows: then there are no layers.
  double skin_depth = std::numeric_limits<double>::infinity();
  /// Longest edge inside [m]; infinity: the surroundings determine it.
  double largest_edge = std::numeric_limits<double>::infinity();
  std::optional<BuriedSkin> buried_skin = std::nullopt;
  /// Bends the field at its surface although no eddy current flows: it carries a given current, or
  /// is magnetic. Conductors always do.
  bool bends_field = false;
};

/// The half-plane inside a circle about a point of the axis, empty space outside it.
struct OpenSpace {
  double centre_z = 0.0;
  double radius = 0.0;  ///< [m]; 0: chosen to contain everything with a margin
};

/// 0 < r < radius, bottom < z < top: for checks against closed forms. Top and bottom are cut
/// planes, so bodies that extend to them continue beyond and have no layer there.
struct Box {
  double radius = 0.0, bottom = 0.0, top = 0.0;  ///< [m]
};

/// The named regions of the half-plane; everything not named is air.
struct Section {
  std::vector<SectionRegion> regions;
  std::variant<OpenSpace, Box> domain = OpenSpace{};
};

}  // namespace cw
