#pragma once

#include <vector>

#include "solver/thermal/turn_wall.hpp"

namespace cw {

/// A grey rod on the axis of a cylinder that may have openings, both of limited height.
struct RodInCylinder {
  double rod_radius = 0.0, rod_low = 0.0, rod_high = 0.0;  ///< [m]
  double emissivity = 0.8;                                 ///< of the rod
  double radius = 0.0, low = 0.0, high = 0.0;              ///< of the cylinder, outside the rod [m]
  OpenWall wall;
};

/// Shares of the radiation of a ring of the rod that the cylinder absorbs, and that escape through
/// the ends or the openings; the rest returns to the rod.
struct Fate {
  double cylinder = 0.0, beyond = 0.0;
};

/// Where the radiation of a rod in a coil ends, with all reflections. Rod and cylinder are cut into
/// rings of even brightness that see each other by view factors, and the rod has one temperature.
/// The only approximation is the height of the rings, a third of the gap or less. Where the
/// cylinder extends beyond the rod, light crosses the middle: it returns as if a mirror stood
/// there.
class CoilEnclosure {
 public:
  explicit CoilEnclosure(const RodInCylinder& place);
  /// For a ring of the rod at height z [m].
  [[nodiscard]] Fate from(double z) const;

 private:
  [[nodiscard]] double middle(int ring) const { return place_.low + (ring + 0.5) * step_; }

  RodInCylinder place_;
  double step_ = 0.0;        ///< height of a ring [m]
  std::vector<Fate> after_;  ///< for light that falls on a ring of the cylinder
};

}  // namespace cw
