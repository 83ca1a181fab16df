#pragma once

#include "postproc/picture/picture.hpp"

namespace cw {

/// Bodies and turns as they stand in the room, cut open by a quarter and seen from above: the
/// section turned about the axis, coloured by power density on the same logarithmic scale as the
/// sections, in parallel perspective with millimetre scales. Turns are the rings of the model.
/// Without a display and without a graphics card.
Canvas solid_picture(const PictureInput& input);

}  // namespace cw
