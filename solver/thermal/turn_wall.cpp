#include "solver/thermal/turn_wall.hpp"

#include <cmath>
#include <numbers>

namespace cw {
namespace {

/// A space between two openings with one grey surface: light that enters through an opening leaves
/// through one of them or is absorbed.
struct Space {
  double out_wide, narrow;  ///< shares of light from the wide opening that leave through it again,
                            ///< and through the narrow one
  double wide, out_narrow;  ///< shares of light from the narrow opening that leave through the wide
                            ///< one, and through it again
};

/// `across` is the view factor from the wide opening to the narrow one; sizes are of openings and
/// surface.
Space space_of(double wide, double narrow, double surface, double across, double emissivity) {
  const double back = across * wide / narrow;  // view from narrow to wide, by reciprocity
  const double to_wide = (1 - across) * wide / surface, to_narrow = (1 - back) * narrow / surface;
  const double itself = 1 - to_wide - to_narrow;
  const double leaves = (1 - emissivity) / (1 - (1 - emissivity) * itself);
  return {(1 - across) * leaves * to_wide, across + (1 - across) * leaves * to_narrow,
          back + (1 - back) * leaves * to_wide, (1 - back) * leaves * to_narrow};
}

OpenWall round_row(const BarRow& row) {
  const double radius = row.size / 2, pitch = row.size + row.gap;
  // View from the narrowest place to the open side, from edge to edge of the two circles.
  const double seen =
      std::sqrt(pitch * pitch - pitch * row.size) - radius * std::acos(radius / (pitch - radius));
  const Space s = space_of(pitch, row.gap, std::numbers::pi * radius, seen / pitch, row.emissivity);
  const double to_and_fro = 1 - s.out_narrow * s.out_narrow;
  OpenWall wall;
  wall.passes = s.narrow * s.wide / to_and_fro;
  wall.takes = 1 - wall.passes - s.out_wide - s.narrow * s.out_narrow * s.wide / to_and_fro;
  return wall;
}

OpenWall flat_row(const BarRow& row) {
  const double share = row.gap / (row.size + row.gap);
  const double across = (std::hypot(row.depth, row.gap) - row.depth) / row.gap;
  const Space s = space_of(row.gap, row.gap, 2 * row.depth, across, row.emissivity);
  OpenWall wall;
  wall.passes = share * s.narrow;
  wall.takes = (1 - share) * row.emissivity + share * (1 - s.narrow - s.out_wide);
  return wall;
}

}  // namespace

OpenWall wall_of(const BarRow& row) {
  if (row.gap <= 0.0) return {row.emissivity, 0.0};
  return row.round ? round_row(row) : flat_row(row);
}

}  // namespace cw
