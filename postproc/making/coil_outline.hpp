#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// A piece of the coil's section in its own plane: x across (the axis is x = 0), y along the axis
/// [m].
struct OutlinePiece {
  std::string layer;  ///< "COIL", "BORE", "WORK", "AXIS", "FORMER"
  bool circle = false;
  double x = 0.0, y = 0.0, radius = 0.0;  ///< of a circle
  double to_x = 0.0, to_y = 0.0;          ///< else a straight line from (x, y)
};

/// Section of the coil on both sides of the axis, outside and bore of every turn, ends of the
/// workpiece, axis; beside it, seen along the axis, the former and the coil. Needs a design.
std::vector<OutlinePiece> coil_outline(const Result& result);

/// The outline as a drawing for machines and templates: DXF, ASCII, release 12 (AC1009), in mm at
/// 1:1. Source: the published DXF reference.
std::string coil_dxf(const std::vector<OutlinePiece>& outline);

/// The outline as an SVG that prints at 1:1, with a 50 mm line to check the printer by.
std::string coil_template(const std::vector<OutlinePiece>& outline);

}  // namespace cw
