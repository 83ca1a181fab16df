#pragma once

#include "solver/heater/heater.hpp"

namespace cw {

/// Whether metal encloses air on all sides: a pipe with closed ends, a plugged bore, a cup under a
/// lid. Heated, it may burst. Insulators do not seal and do not count. Found on a raster of 307
/// cells across the longer side: a gap narrower than a cell counts as closed.
bool encloses_air(const Heater& heater);

}  // namespace cw
