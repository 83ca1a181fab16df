#include "solver/circuit/helix.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "materials/quantity.hpp"
#include "solver/circuit/coaxial_loops.hpp"

namespace cw {
namespace {

using std::numbers::pi;

/// 20 and 12 points: doubling both changes the inductance by less than 1e-9 of itself.
using AlongTurn = boost::math::quadrature::gauss<double, 20>;
using AcrossRadii = boost::math::quadrature::gauss<double, 12>;

double end_radius(const Helix& h) {
  return h.radius_end.value_or(h.radius);
}

void require_winding(const Helix& h) {
  const auto refuse = [](const char* what, double value, const char* remedy) {
    throw std::invalid_argument(fmt::format("{} is {}; {}", what, value, remedy));
  };
  const auto positive = [](double v) { return std::isfinite(v) && v > 0.0; };
  if (!positive(h.radius)) {
    refuse("coil radius", h.radius, "it must be positive [m]: write the bore, such as 32 mm");
  }
  if (!positive(end_radius(h))) {
    refuse("coil end radius", end_radius(h),
           "it must be positive [m]: write the last turn's radius, or leave it out");
  }
  if (!positive(h.turns)) refuse("turns", h.turns, "must be positive: write such as 5.5");
  if (!positive(h.wire_radius)) {
    refuse("conductor radius", h.wire_radius, "it must be positive [m]: write such as 3 mm");
  }
  if (!std::isfinite(h.pitch)) {
    refuse("pitch", h.pitch, "it must be a length [m]: write such as 9 mm, 0 for a flat spiral");
  }
}

/// Neumann's integrand for two points of the winding, an angle theta apart.
struct Pair {
  double slope;  ///< dR/dphi [m/rad]
  double climb;  ///< dz/dphi [m/rad]
  double tube2;  ///< a^2 [m^2]

  /// t.t'/sqrt(d^2 + a^2), `mid` the mean of both radii. With R = mid + s theta/2 and
  /// R' = mid - s theta/2: t.t' = (s^2 + R R') cos theta - s (R - R') sin theta + climb^2,
  /// d^2 = (R - R')^2 + 4 R R' sin^2(theta/2) + (climb theta)^2.
  [[nodiscard]] double operator()(double theta, double mid) const {
    const double difference = slope * theta;
    const double product = mid * mid - difference * difference / 4.0;
    const double chord = std::sin(theta / 2.0);
    const double rise = climb * theta;
    const double d2 = difference * difference + 4.0 * product * chord * chord + rise * rise;
    const double tangents = (slope * slope + product) * (1.0 - 2.0 * chord * chord) -
                            slope * difference * std::sin(theta) + climb * climb;
    return tangents / std::sqrt(d2 + tube2);
  }
};

/// Integral over theta of (whole - theta) pair(theta, mid(theta)). The integrand peaks at every
/// full turn, where neighbouring turns pass at the distance `width`; the substitution theta = peak
/// + width sinh(u) flattens the peak.
double along_winding(const Helix& h, const Pair& pair, double across) {
  const double whole = 2.0 * pi * h.turns;
  const double centre = (h.radius + end_radius(h)) / 2.0;
  const double half_span = (end_radius(h) - h.radius) / 2.0;
  const auto mid = [&](double theta) {
    return centre + across * half_span * (1.0 - theta / whole);
  };
  double sum = 0.0;
  const auto piece = [&](double peak, double from, double to) {
    from = std::max(from, 0.0);
    to = std::min(to, whole);
    if (to <= from) return;
    const double step = std::hypot(pair.slope, pair.climb) * peak;
    const double width = std::sqrt(step * step + pair.tube2) / mid(std::min(peak, whole));
    const auto flattened = [&](double u) {
      const double theta = peak + width * std::sinh(u);
      return (whole - theta) * pair(theta, mid(theta)) * width * std::cosh(u);
    };
    sum += AlongTurn::integrate(flattened, std::asinh((from - peak) / width),
                                std::asinh((to - peak) / width));
  };
  for (int turn = 0; 2.0 * pi * turn - pi < whole; ++turn) {
    const double peak = 2.0 * pi * turn;
    piece(peak, peak - pi, peak);
    piece(peak, peak, peak + pi);
  }
  return sum;
}

}  // namespace

int ring_count(double turns) {
  return std::max(1, static_cast<int>(std::ceil(turns - 1e-6)));
}

double helix_length_factor(const Helix& h) {
  require_winding(h);
  const double mean = (h.radius + end_radius(h)) / 2.0;
  const double advance = std::hypot(h.pitch, (end_radius(h) - h.radius) / h.turns);
  return std::hypot(1.0, advance / (2.0 * pi * mean));
}

double helix_inductance(const Helix& h) {
  require_winding(h);
  const double whole = 2.0 * pi * h.turns;
  const Pair pair{.slope = (end_radius(h) - h.radius) / whole,
                  .climb = h.pitch / (2.0 * pi),
                  .tube2 = h.wire_radius * h.wire_radius};
  // Twice the half plane theta > 0. At a given theta the mean radius of the two points varies
  // uniformly over `across` in [-1, 1]; for a constant radius nothing depends on it.
  const double scale = 2.0 * mu0 / (4.0 * pi);
  if (pair.slope == 0.0) return scale * along_winding(h, pair, 0.0);
  return scale * 0.5 *
         AcrossRadii::integrate([&](double x) { return along_winding(h, pair, x); }, -1.0, 1.0);
}

double ring_inductance(const Helix& h) {
  require_winding(h);
  const int n = ring_count(h.turns);
  const double weight = h.turns / n;
  const double pitch = weight * h.pitch;
  const auto radius = [&](int i) { return h.radius + (end_radius(h) - h.radius) * (i + 0.5) / n; };
  double sum = 0.0;
  if (end_radius(h) == h.radius) {
    for (int apart = 0; apart < n; ++apart) {
      const double m = coaxial_mutual(h.radius, h.radius, std::hypot(apart * pitch, h.wire_radius));
      sum += (apart == 0 ? 1.0 : 2.0) * (n - apart) * m;
    }
    return weight * weight * sum;
  }
  for (int i = 0; i < n; ++i) {
    for (int j = 0; j <= i; ++j) {
      const double z = std::hypot((i - j) * pitch, h.wire_radius);
      sum += (i == j ? 1.0 : 2.0) * coaxial_mutual(radius(i), radius(j), z);
    }
  }
  return weight * weight * sum;
}

double helix_correction(const Helix& h) {
  return helix_inductance(h) - ring_inductance(h);
}

}  // namespace cw
