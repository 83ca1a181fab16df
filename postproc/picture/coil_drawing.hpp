#pragma once

#include "postproc/picture/canvas.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// Coil and workpiece in section, to scale, as a workshop drawing: conductor hatched, sizes in mm.
/// Made only from the result. Needs a design and a state.
Canvas coil_drawing(const Result& result);

}  // namespace cw
