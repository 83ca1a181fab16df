#pragma once

#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// A round wall between the hot part and the coil: sleeve, fibre, liner.
struct NestWall {
  double inner = 0.0, outer = 0.0;  ///< radii [m]
  double conductivity = 0.1;        ///< thermal [W/(m K)]
  double emissivity = 0.8;
};

/// A hot round part inside walls inside the coil, all coaxial, with only air between them.
struct CoaxialNest {
  double hot_radius = 0.0, hot_emissivity = 0.8;
  Temperature hot;
  std::vector<NestWall> walls;  ///< from inside to outside, clear of each other or touching
  double coil_radius = 0.0;     ///< inside, clear of the last wall [m]
  double coil_emissivity = 0.1;
  Temperature coil;
  double length = 0.0;  ///< over which hot part and coil face each other [m]
};

/// Heat that reaches the coil [W], steady. Across each gap: grey radiation between long cylinders,
/// sigma A1 (T1^4 - T2^4)/(1/e1 + (r1/r2)(1/e2 - 1)), and conduction through still air. Through
/// each wall: 2 pi k L (T1 - T2)/ln(r2/r1). Source: F. P. Incropera, D. P. DeWitt, Fundamentals of
/// Heat and Mass Transfer, chapters 3 and 13 (from memory). The coil is taken as a closed cylinder,
/// so the result is too high rather than too low; flow of air in the gap is left out. 0 if the hot
/// part is colder.
double heat_to_coil(const CoaxialNest& nest);

}  // namespace cw
