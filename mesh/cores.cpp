#include "mesh/cores.hpp"

#include <algorithm>
#include <limits>

namespace cw {

namespace {

Core core_of(const Disc& disc) {
  const double inner = disc.centre.r == 0 ? disc.radius : disc.centre.r - disc.radius;
  return {disc.centre.z - disc.radius, disc.centre.z + disc.radius, inner};
}

Core core_of(const Polygon& polygon) {
  Core core{std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity(),
            std::numeric_limits<double>::infinity()};
  for (const Point p : polygon.outline) {
    core.low = std::min(core.low, p.z);
    core.high = std::max(core.high, p.z);
    if (p.r > 0) core.radius = std::min(core.radius, p.r);
  }
  return core;
}

/// Whether `a` hides `b` from the axis: nearer, and beside all of it but for what its own radius
/// reaches.
bool hides(const Core& a, const Core& b) {
  return a.radius <= b.radius && a.low <= b.low + b.radius && a.high >= b.high - b.radius;
}

}  // namespace

std::vector<Core> cores_of(const Section& section) {
  std::vector<Core> all;
  for (const SectionRegion& region : section.regions)
    all.push_back(std::visit([](const auto& shape) { return core_of(shape); }, region.shape));
  std::ranges::stable_sort(all, {}, &Core::radius);
  std::vector<Core> cores;
  for (const Core& core : all)
    if (std::ranges::none_of(cores, [&](const Core& nearer) { return hides(nearer, core); }))
      cores.push_back(core);
  return cores;
}

}  // namespace cw
