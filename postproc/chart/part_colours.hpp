#pragma once

#include <vector>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// Colours of the parts of a power balance. Parts that the field heats, intended or not, are dark;
/// losses in coil and circuit are light, in grey print and for every eye too. Colours repeat after
/// five and eight; letters then distinguish the parts.
std::vector<Colour> part_colours(const std::vector<bool>& heated);

}  // namespace cw
