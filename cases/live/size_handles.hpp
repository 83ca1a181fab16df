#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cases/case.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw::cases {

/// A size of the case that can be pulled in its drawing. A pull of d points rightwards or, if
/// `upright`, downwards changes the number by d `per_point`.
struct SizeHandle {
  std::string key, label;  ///< of the field that holds it
  Spot at;                 ///< in the drawing
  bool upright = false;    ///< pulled up and down; else left and right
  double number = 0.0;     ///< before the unit
  std::string unit;        ///< as written in the case; empty for a bare number
  double per_point = 0.0;
  double step = 0.0;                 ///< what a maker would measure: half a millimetre, a turn
  std::optional<double> least = {};  ///< smallest number; a place may be anywhere
};

/// Coil and work of a case, drawn before anything is solved.
struct SizeDrawing {
  Canvas canvas;
  Frame frame;  ///< of the section in it
  std::vector<SizeHandle> handles;
};

/// `text`: of the case. Sizes that stand in it as plain values can be pulled, and the place of the
/// work.
SizeDrawing size_drawing(const Case& subject, const std::string& text);

}  // namespace cw::cases
