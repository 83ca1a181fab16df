#pragma once

#include "cases/case.hpp"

namespace cw::cases {

/// Peak voltage [V] for which a transistor of this drive is or would be rated: as given, or four
/// times the supply, since a tank in parallel has a peak of pi times the supply.
inline double usual_rating(const PushPullDrive& drive) {
  return drive.transistor.voltage_limit.value_or(4.0 * drive.supply);
}

}  // namespace cw::cases
