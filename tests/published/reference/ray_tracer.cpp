#include "tests/published/reference/ray_tracer.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <random>

#include "tests/published/reference/quadrature.hpp"

namespace cw::reference {
namespace {

using Vector = std::array<double, 3>;

constexpr double contact = 1e-8;  ///< [m] nearer than this is a hit

Vector ahead(const Vector& from, const Vector& direction, double way) {
  return {from[0] + way * direction[0], from[1] + way * direction[1], from[2] + way * direction[2]};
}

double dot(const Vector& a, const Vector& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/// Distance from (x, y) to a rectangle round the origin; negative inside.
double from_rectangle(double x, double y, double half_x, double half_y) {
  const double a = std::abs(x) - half_x, b = std::abs(y) - half_y;
  const double out_a = std::max(a, 0.0), out_b = std::max(b, 0.0);
  return std::sqrt(out_a * out_a + out_b * out_b) + std::min(std::max(a, b), 0.0);
}

enum class Body { rod, ring, none };

struct Nearest {
  double distance;
  Body body;
};

/// Follows rays through one arrangement.
class Tracer {
 public:
  Tracer(const RodInRings& place, std::uint64_t seed) : place_(place), random_(seed) {
    double reach = 0.5 * (place.high - place.low), middle = 0.5 * (place.high + place.low);
    double far = std::hypot(place.radius, reach);
    for (const MetalRing& r : place.rings)
      far = std::max(
          far, std::hypot(r.radius + r.half_radial, std::abs(r.height - middle) + r.half_axial));
    middle_ = middle;
    beyond_ = 1.01 * far;
  }

  double draw() { return std::uniform_real_distribution<double>(0.0, 1.0)(random_); }

  /// What takes up a ray that starts at a surface with the normal given.
  Body end_of_ray(Vector at, Vector normal) {
    for (;;) {
      at = ahead(at, normal, 4 * contact);
      const Body met = next_body(at, diffuse(normal));
      if (met == Body::none) return met;
      const double takes = met == Body::rod ? place_.rod_emissivity : place_.ring_emissivity;
      if (draw() < takes) return met;
      normal = normal_at(at);
    }
  }

 private:
  [[nodiscard]] Nearest nearest(const Vector& at) const {
    const double rho = std::sqrt(at[0] * at[0] + at[1] * at[1]),
                 reach = 0.5 * (place_.high - place_.low);
    Nearest found{from_rectangle(rho, at[2] - middle_, place_.radius, reach), Body::rod};
    for (const MetalRing& r : place_.rings) {
      const double x = rho - r.radius, y = at[2] - r.height;
      if (std::abs(y) - r.half_axial >= found.distance) continue;
      const double d = r.round ? std::sqrt(x * x + y * y) - r.half_radial
                               : from_rectangle(x, y, r.half_radial, r.half_axial);
      if (d < found.distance) found = {d, Body::ring};
    }
    return found;
  }

  /// Moves `at` along the direction to the next surface.
  Body next_body(Vector& at, const Vector& direction) const {
    for (;;) {
      const Nearest near = nearest(at);
      if (near.distance < contact) return near.body;
      at = ahead(at, direction, near.distance);
      const Vector off{at[0], at[1], at[2] - middle_};
      if (dot(off, off) > beyond_ * beyond_ && dot(off, direction) > 0) return Body::none;
    }
  }

  /// Gradient of the distance.
  [[nodiscard]] Vector normal_at(const Vector& at) const {
    constexpr double step = 1e-7;
    Vector normal{};
    for (int i = 0; i < 3; ++i) {
      Vector up = at, down = at;
      up[i] += step;
      down[i] -= step;
      normal[i] = nearest(up).distance - nearest(down).distance;
    }
    const double length = std::sqrt(dot(normal, normal));
    for (double& n : normal) n /= length;
    return normal;
  }

  /// Lambert's law: a point of the sphere about the tip of the normal.
  Vector diffuse(const Vector& normal) {
    const double up = 2 * draw() - 1, angle = 2 * kPi * draw();
    const double flat = std::sqrt(std::max(0.0, 1 - up * up));
    Vector d{normal[0] + flat * std::cos(angle), normal[1] + flat * std::sin(angle),
             normal[2] + up};
    const double length = std::max(1e-12, std::sqrt(dot(d, d)));
    for (double& x : d) x /= length;
    return d;
  }

  const RodInRings& place_;
  std::mt19937_64 random_;
  double middle_ = 0.0, beyond_ = 0.0;
};

struct Start {
  Vector at, normal;
};

Taken trace(Tracer& tracer, int rays, const std::function<Start()>& start) {
  int rings = 0, room = 0;
  for (int k = 0; k < rays; ++k) {
    const Start s = start();
    const Body end = tracer.end_of_ray(s.at, s.normal);
    rings += end == Body::ring ? 1 : 0;
    room += end == Body::none ? 1 : 0;
  }
  const double sum = (rings + room) / static_cast<double>(rays);
  return {rings / static_cast<double>(rays), room / static_cast<double>(rays),
          std::sqrt(sum * (1 - sum) / rays)};
}

}  // namespace

Taken taken_from_side(const RodInRings& place, const Band& band, int rays, std::uint64_t seed) {
  Tracer tracer(place, seed);
  return trace(tracer, rays, [&] {
    return Start{{place.radius, 0.0, band.low + (band.high - band.low) * tracer.draw()},
                 {1.0, 0.0, 0.0}};
  });
}

Taken taken_from_end(const RodInRings& place, bool upper, int rays, std::uint64_t seed) {
  Tracer tracer(place, seed);
  return trace(tracer, rays, [&] {
    return Start{{place.radius * std::sqrt(tracer.draw()), 0.0, upper ? place.high : place.low},
                 {0.0, 0.0, upper ? 1.0 : -1.0}};
  });
}

double share_met_by_bars(double diameter_over_pitch) {
  const double x = diameter_over_pitch;
  return 1 - std::sqrt(1 - x * x) + x * std::atan(std::sqrt(1 / (x * x) - 1));
}

}  // namespace cw::reference
