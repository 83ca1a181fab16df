#include "solver/thermal/view_factor.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace cw {
namespace {

using std::numbers::pi;

/// Terms of the published formula at X = outer/inner and Y = length/inner.
struct Terms {
  double x, y, a, b, root, to_ring, to_wall;
};

Terms terms_of(CoaxialPair radii, double length) {
  assert(0.0 < radii.inner && radii.inner < radii.outer);
  Terms t{};
  t.x = radii.outer / radii.inner;
  t.y = length / radii.inner;
  t.a = t.y * t.y + t.x * t.x - 1;
  t.b = t.y * t.y - t.x * t.x + 1;
  t.root = std::sqrt(std::max(0.0, (t.a + 2) * (t.a + 2) - 4 * t.x * t.x));
  t.to_ring = std::acos(std::clamp(t.b / t.a, -1.0, 1.0));
  t.to_wall = std::acos(std::clamp(t.b / (t.x * t.a), -1.0, 1.0));
  return t;
}

}  // namespace

double view_inner_to_outer(CoaxialPair radii, double length) {
  const Terms t = terms_of(radii, length);
  const double bracket = t.root * t.to_wall + t.b * std::asin(1 / t.x) - 0.5 * pi * t.a;
  return 1 - (t.to_ring - bracket / (2 * t.y)) / pi;
}

double view_of_ring(CoaxialPair radii, double length) {
  if (length < 0.0) return -view_of_ring(radii, -length);
  // Far away the difference of large numbers below loses digits, and the view is already complete.
  if (length > 1e4 * radii.outer) return 0.5;
  const Terms t = terms_of(radii, length);
  if (t.y < 1e-9) return 0.0;
  const double away = t.a - t.b;
  const double ring_slope = -2 * t.y * away / (t.a * std::sqrt(t.a * t.a - t.b * t.b));
  const double wall_slope = -2 * t.y * away / (t.a * std::sqrt(t.x * t.x * t.a * t.a - t.b * t.b));
  const double root_slope = 2 * t.y * (t.a + 2) / t.root;
  const double bracket_slope =
      root_slope * t.to_wall + t.root * wall_slope + 2 * t.y * std::asin(1 / t.x) - pi * t.y;
  return 0.5 * (1 - (t.to_ring + t.y * ring_slope - 0.5 * bracket_slope) / pi);
}

double view_along_wall(CoaxialPair radii, double length) {
  constexpr int panels = 64;
  const double widest = 2 * std::acos(radii.inner / radii.outer), z = length;
  double sum = 0;
  for (int k = 1; k <= panels; ++k) {  // zero at angle 0
    const double chord = 2 * radii.outer * std::sin(widest * k / panels / 2);
    const double along = chord * chord * z / (chord * chord + z * z) + chord * std::atan(z / chord);
    sum += (k == panels ? 1 : k % 2 == 1 ? 4 : 2) * along;
  }
  return sum * widest / panels / 3 / (4 * pi * radii.outer);
}

double grey_coaxial(CoaxialPair radii, double inner_emissivity, double outer_emissivity) {
  return 1 / (1 / inner_emissivity + radii.inner / radii.outer * (1 / outer_emissivity - 1));
}

}  // namespace cw
