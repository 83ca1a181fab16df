#include "tests/published/reference/neumann.hpp"

#include <algorithm>

namespace cw::reference {
namespace {

/// Edges from 0 to last: doubling from `first` up to panels of pi/8, which follow the turns.
std::vector<double> near_edges(double first, double last) {
  std::vector<double> edges{0.0};
  double width = std::min(first, kPi / 8.0);
  while (edges.back() < last) {
    edges.push_back(std::min(edges.back() + width, last));
    width = std::min(edges.size() > 2 ? 2.0 * width : width, kPi / 8.0);
  }
  return edges;
}

}  // namespace

double helix_inductance(const Helix& helix) {
  const double r = helix.radius;
  const double rise = helix.pitch / (2.0 * kPi);
  const double a = helix.conductor_radius;
  const double length = 2.0 * kPi * helix.turns;
  const auto kernel = [&](double u) {
    const double chord = 2.0 * r * std::sin(0.5 * u);
    const double climb = rise * u;
    return (length - u) * (r * r * std::cos(u) + rise * rise) /
           std::sqrt(chord * chord + climb * climb + a * a);
  };
  return kMu0 / (2.0 * kPi) *
         integrate_panels(kernel, near_edges(a / std::hypot(r, rise), length), 24);
}

double helix_rings_inductance(const Helix& helix) {
  return spiral_rings_inductance(
      {helix.radius, helix.radius, helix.pitch * helix.turns, helix.conductor_radius, helix.turns});
}

double spiral_inductance(const Spiral& spiral) {
  const double end = 2.0 * kPi * spiral.turns;
  const double slope = (spiral.last_radius - spiral.first_radius) / end;
  const double rise = spiral.height / end;
  const double a = spiral.conductor_radius;
  const auto pair = [&](double s, double t) {
    const double rs = spiral.first_radius + slope * s;
    const double rt = spiral.first_radius + slope * t;
    const double u = s - t;
    const double chord2 = (rs - rt) * (rs - rt) + 4.0 * rs * rt * std::pow(std::sin(0.5 * u), 2);
    const double tangents =
        (slope * slope + rs * rt) * std::cos(u) + slope * (rt - rs) * std::sin(u) + rise * rise;
    return tangents / std::sqrt(chord2 + rise * rise * u * u + a * a);
  };
  // Over the difference u = s - t first: the near-singular direction gets the graded panels.
  const auto difference = [&](double u) {
    const int panels = 1 + static_cast<int>((end - u) / 2.0);
    double sum = 0.0;
    for (int i = 0; i < panels; ++i) {
      const double step = (end - u) / panels;
      sum += integrate([&](double t) { return pair(t + u, t); }, i * step, (i + 1) * step, 8);
    }
    return sum;
  };
  const double first = a / std::hypot(std::max(spiral.first_radius, spiral.last_radius), rise);
  return kMu0 / (2.0 * kPi) * integrate_panels(difference, near_edges(first, end), 20);
}

double spiral_rings_inductance(const Spiral& spiral) {
  const int n = static_cast<int>(std::ceil(spiral.turns));
  const double weight = spiral.turns / n;
  const double a = spiral.conductor_radius;
  const auto radius = [&](int k) {
    return spiral.first_radius + (spiral.last_radius - spiral.first_radius) * (k + 0.5) / n;
  };
  double sum = 0.0;
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j < n; ++j) {
      // sqrt(d^2 + a^2) for every pair of points is the mutual inductance of loops whose axial
      // distance is sqrt(z^2 + a^2).
      const double z = spiral.height * (i - j) / n;
      sum += mutual_inductance(radius(i), radius(j), std::hypot(z, a));
    }
  }
  return weight * weight * sum;
}

}  // namespace cw::reference
