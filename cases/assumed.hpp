#pragma once

#include "cases/case.hpp"

namespace cw::cases {

/// Peak voltage [V] a transistor of this drive is or would be rated for: as written, or four times
/// the supply; a tank that rings in parallel puts pi times the supply across it.
inline double usual_rating(const PushPullDrive& drive) {
  return drive.transistor.voltage_limit.value_or(4.0 * drive.supply);
}

}  // namespace cw::cases
