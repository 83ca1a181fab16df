#include "solver/field/layering.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

double layering_skin_depth(const EffectiveReluctivity& law, double share, double conductivity,
                           Frequency f, double surface_field_rms) {
  return saturated_skin_depth(law, share, conductivity, f, 0.25 * surface_field_rms);
}

Sizing for_saturation(Sizing sizing) {
  // The permeability rises with depth and the field falls more slowly than in a linear body.
  constexpr double deep = 10.0;  // skin depths
  sizing.growth = 1.0 + 2.0 / 3.0 * (sizing.growth - 1.0);
  const double rise = sizing.growth - 1.0;
  sizing.layers = static_cast<int>(
      std::ceil(std::log(1.0 + deep * rise / sizing.first_layer) / std::log(sizing.growth)));
  return sizing;
}

}  // namespace cw
