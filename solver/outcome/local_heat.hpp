#pragma once

#include <array>
#include <vector>

namespace cw {

/// Temperature and heat per volume where they vary inside a body: values at the six nodes of every
/// triangle of a mesh, since both jump between bodies.
struct LocalHeat {
  std::vector<std::array<double, 6>> kelvin;
  std::vector<std::array<double, 6>> power_density;  ///< [W/m^3]
};

}  // namespace cw
