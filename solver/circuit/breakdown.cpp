#include "solver/circuit/breakdown.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

double breakdown_peak_V(double gap, Temperature gas) {
  const double centimetres = 100 * gap * 293.0 / gas.kelvin;
  return std::max(327.0, 1e3 * (24.22 * centimetres + 6.08 * std::sqrt(centimetres)));
}

}  // namespace cw
