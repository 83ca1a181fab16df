#include "solver/field/layering.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

double layering_skin_depth(const EffectiveReluctivity& law, double share, double conductivity,
                           Frequency f, double surface_field_rms) {
  return saturated_skin_depth(law, share, conductivity, f, 0.25 * surface_field_rms);
}

Sizing for_saturation(Sizing sizing) {
  // The same depth in all: first (g^n - 1)/(g - 1).
  const double depth = (std::pow(sizing.growth, sizing.layers) - 1) / (sizing.growth - 1);
  sizing.growth = 1.0 + 0.5 * (sizing.growth - 1.0);
  sizing.layers = std::max(1, static_cast<int>(std::ceil(std::log(1 + depth * (sizing.growth - 1)) /
                                                         std::log(sizing.growth))));
  return sizing;
}

}  // namespace cw
