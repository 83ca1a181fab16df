#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// A surface as an infrared thermometer sees it.
struct SeenSurface {
  double emissivity = 0.8;
  Temperature at, surroundings = Temperature::celsius(20.0);
};

/// What a hand-held infrared thermometer set to an emissivity shows. It works from 8 to 14 um,
/// taken as 10 um (common practice, no source), takes the surroundings to be as warm as they are,
/// and the surface shines and mirrors grey: e L(T) + (1 - e) L(Ts) with L = 1/(exp(c2/(10 um T)) -
/// 1), c2 = 14388 um K (Planck's law; CODATA 2018, from memory).
Temperature thermometer_reading(const SeenSurface& surface, double set_to);

}  // namespace cw
