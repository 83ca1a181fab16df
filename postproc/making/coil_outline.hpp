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

/// Section of the coil on both sides of the axis: outside and bore of every turn, ends of the
/// workpiece, axis. Beside it the former and the coil, seen along the axis. Needs a design.
std::vector<OutlinePiece> coil_outline(const Result& result);

/// The outline for machines and templates: DXF, ASCII, release 12 (AC1009), in mm at 1:1. Source:
/// the published DXF reference.
std::string coil_dxf(const std::vector<OutlinePiece>& outline);

/// A dimension on the template, between two points in the plane of the outline. The dimension line
/// is `beyond` outside the farther of them (to the right, or downwards) [m].
struct TemplateSize {
  std::string words;   ///< "bore \u00d8 32"
  bool along = false;  ///< along y, else along x
  double from_x = 0.0, from_y = 0.0, to_x = 0.0, to_y = 0.0;
  double beyond = 0.0;
};

/// Texts and dimensions of the template beside the outline.
struct TemplateNotes {
  std::vector<TemplateSize> sizes;
  std::string foot;  ///< a line of text
};

/// Bore, outside, length and pitch of the coil, diameter of the former, bend radius. Needs a
/// design.
TemplateNotes template_notes(const Result& result);

/// The outline as an SVG that prints at 1:1, with its dimensions and a 50 mm line to check the
/// scale of the printer.
std::string coil_template(const std::vector<OutlinePiece>& outline,
                          const TemplateNotes& notes = {});

}  // namespace cw
