#include "solver/heater/bodies.hpp"

#include <algorithm>

namespace cw {

OutlineExtent extent_of(const Outline& outline) {
  OutlineExtent e;
  for (const Point& c : outline.profile) {
    e.inner = std::min(e.inner, c.r);
    e.outer = std::max(e.outer, c.r);
    e.low = std::min(e.low, c.z);
    e.high = std::max(e.high, c.z);
  }
  return e;
}

}  // namespace cw
