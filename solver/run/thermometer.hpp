#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// A surface as an infrared thermometer sees it.
struct SeenSurface {
  double emissivity = 0.8;
  Temperature at, surroundings = Temperature::celsius(20.0);
};

/// The reading of a hand-held infrared thermometer set to an emissivity. It works from 8 to 14 um,
/// taken as 10 um (common practice, no source), and assumes surroundings of their true temperature.
/// The surface emits and reflects as a grey body: e L(T) + (1 - e) L(Ts) with L = 1/(exp(c2/(10 um
/// T)) - 1), c2 = 14388 um K (Planck's law; CODATA 2018, from memory).
Temperature thermometer_reading(const SeenSurface& surface, double set_to);

}  // namespace cw
