#pragma once

#include <array>
#include <vector>

namespace cw {

/// Temperature and heat per volume that vary inside bodies: values at the six nodes of every
/// triangle of a mesh, since both are discontinuous between bodies.
struct LocalHeat {
  std::vector<std::array<double, 6>> kelvin;
  std::vector<std::array<double, 6>> power_density;  ///< [W/m^3]
};

}  // namespace cw
