#include "mesh/sizing.hpp"

#include <algorithm>
#include <cmath>

namespace cw {

Sizing Sizing::scaled(double factor) const {
  Sizing s = *this;
  s.first_layer *= factor;
  s.growth = 1.0 + (growth - 1.0) * factor;
  s.disc_first_layer *= factor;
  s.disc_growth = 1.0 + (disc_growth - 1.0) * factor;
  // About the same total depth with the finer first layer and slower growth.
  const double depth = first_layer * (std::pow(growth, layers) - 1.0) / (growth - 1.0);
  s.layers = static_cast<int>(std::ceil(
      std::log(1.0 + depth * (s.growth - 1.0) / s.first_layer) / std::log(s.growth) - 0.2));
  s.corner *= factor;
  s.corner_growth *= factor;
  s.clearance *= factor;
  s.round /= factor;
  s.open_edges /= factor;
  return s;
}

namespace {

/// Layers of a first skin down to a buried one, from which they grow as from a surface.
std::vector<double> depths_down_to(const Sizing& sizing, double skin_depth,
                                   const BuriedSkin& buried) {
  std::vector<double> depths{0.0};
  const double last = sizing.first_layer * buried.skin_depth;
  double thickness = sizing.first_layer * skin_depth;
  while (depths.back() < buried.depth) {
    const double rest = buried.depth - depths.back();
    const double seen_from_below = (rest * (sizing.growth - 1.0) + last) / sizing.growth;
    const double next = std::min(thickness, seen_from_below);
    depths.push_back(rest < 1.2 * next ? buried.depth : depths.back() + next);
    thickness = sizing.growth * next;
  }
  return depths;
}

}  // namespace

std::vector<double> layer_depths(const Sizing& sizing, double skin_depth, double available,
                                 const std::optional<BuriedSkin>& buried) {
  std::vector<double> depths{0.0};
  if (!std::isfinite(skin_depth) || available <= 0) return depths;
  double thickness = sizing.first_layer * skin_depth;
  std::size_t most = static_cast<std::size_t>(sizing.layers);
  if (buried && buried->depth > 0 && buried->depth < 0.9 * available) {
    depths = depths_down_to(sizing, skin_depth, *buried);
    most += depths.size() - 1;
    thickness = sizing.first_layer * buried->skin_depth;
  }
  while (depths.size() <= most) {
    const double rest = available - depths.back();
    if (rest < 0.6 * thickness && depths.size() > 1) break;
    // The rest would be too thin for a layer of its own: add it to this one.
    if (rest < 1.5 * thickness) {
      depths.push_back(available);
      break;
    }
    depths.push_back(depths.back() + thickness);
    thickness *= sizing.growth;
  }
  return depths;
}

std::vector<double> spread(double length, const std::function<double(double)>& edge, int least) {
  // Cumulative number of edges by the trapezoidal rule, on points fine enough for the smallest edge
  // at the ends.
  constexpr int samples = 400;
  std::vector<double> s(samples + 1), count(samples + 1, 0.0);
  for (int i = 0; i <= samples; ++i) {
    // Denser at both ends, where corners make edges short.
    const double x = static_cast<double>(i) / samples;
    const double t = x * x * x * (10.0 - 15.0 * x + 6.0 * x * x);
    s[i] = length * t;
  }
  double previous = 1.0 / edge(0.0);
  for (int i = 1; i <= samples; ++i) {
    const double here = 1.0 / edge(s[i]);
    count[i] = count[i - 1] + 0.5 * (previous + here) * (s[i] - s[i - 1]);
    previous = here;
  }
  const int n = std::max(least, static_cast<int>(std::ceil(count[samples] - 0.2)));
  std::vector<double> nodes{0.0};
  int i = 0;
  for (int k = 1; k < n; ++k) {
    const double wanted = count[samples] * k / n;
    while (count[i + 1] < wanted) ++i;
    const double x = (wanted - count[i]) / (count[i + 1] - count[i]);
    nodes.push_back(s[i] + x * (s[i + 1] - s[i]));
  }
  nodes.push_back(length);
  return nodes;
}

}  // namespace cw
