#pragma once

#include "postproc/picture/canvas.hpp"
#include "postproc/picture/sheet.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// Coil and workpiece in section, to scale, as a workshop drawing: conductor hatched, sizes in mm.
/// Made only from the result. Needs a design and a state.
Canvas coil_drawing(const Result& result);

/// Where it draws the section on its sheet.
Frame coil_frame(const Result& result);

}  // namespace cw
