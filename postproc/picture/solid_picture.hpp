#pragma once

#include "postproc/picture/picture.hpp"

namespace cw {

/// Bodies and turns in three dimensions, with a quarter cut away, seen from above: the section
/// turned about the axis, coloured by power density on the same logarithmic scale as the sections,
/// in parallel perspective with millimetre scales. Turns are the rings of the model. Needs no
/// display and no graphics card.
Canvas solid_picture(const PictureInput& input);

}  // namespace cw
