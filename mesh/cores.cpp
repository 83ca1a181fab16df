#include "mesh/cores.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

namespace cw {

namespace {

/// The cylinder that the inner side of a body forms: the side at the smallest radius above 0 of its
/// outline, if it is one straight side along the whole height.
std::optional<Core> core_of(const Polygon& polygon) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  Core core{infinity, -infinity, infinity};
  double longest = 0;
  for (const Point p : polygon.outline) {
    core.low = std::min(core.low, p.z);
    core.high = std::max(core.high, p.z);
    if (p.r > 0) core.radius = std::min(core.radius, p.r);
  }
  const auto on_cylinder = [&](Point p) { return p.r <= core.radius * (1 + 1e-12); };
  const std::size_t n = polygon.outline.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Point p = polygon.outline[i], q = polygon.outline[(i + 1) % n];
    if (p.r > 0 && q.r > 0 && on_cylinder(p) && on_cylinder(q))
      longest = std::max(longest, std::abs(p.z - q.z));
  }
  if (longest < (1 - 1e-9) * (core.high - core.low)) return std::nullopt;
  return core;
}

/// Whether `a` hides `b` from the axis: it is nearer, and extends along all of it.
bool hides(const Core& a, const Core& b) {
  return a.radius <= b.radius && a.low <= b.low && a.high >= b.high;
}

}  // namespace

std::vector<Core> cores_of(const Section& section) {
  std::vector<Core> all;
  for (const SectionRegion& region : section.regions)
    if (const auto* polygon = std::get_if<Polygon>(&region.shape))
      if (const auto core = core_of(*polygon)) all.push_back(*core);
  std::ranges::stable_sort(all, {}, &Core::radius);
  std::vector<Core> cores;
  for (const Core& core : all)
    if (std::ranges::none_of(cores, [&](const Core& nearer) { return hides(nearer, core); }))
      cores.push_back(core);
  return cores;
}

}  // namespace cw
