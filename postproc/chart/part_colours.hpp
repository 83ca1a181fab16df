#pragma once

#include <vector>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// Colours of the parts of a power balance, by whether the field heats them: what it heats, on
/// purpose or not, is dark, what coil and circuit lose is light. That stays true in grey print and
/// for every eye. Colours come back after five and eight: letters tell parts apart.
std::vector<Colour> part_colours(const std::vector<bool>& heated);

}  // namespace cw
