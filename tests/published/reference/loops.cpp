#include "tests/published/reference/loops.hpp"

#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/ellint_rd.hpp>
#include <boost/math/special_functions/ellint_rf.hpp>

namespace cw::reference {
namespace {

struct Point {
  double r;
  double z;
};

double density(double r, Spread spread) {
  return spread == Spread::uniform ? 1.0 : 1.0 / r;
}

/// Angles from `from` outwards to pi, doubling: resolves the near edge of the disc.
std::vector<double> doubling_angles(double first) {
  std::vector<double> edges{0.0};
  double edge = first;
  while (edge < kPi) {
    edges.push_back(edge);
    edge *= 2.0;
  }
  edges.push_back(kPi);
  return edges;
}

/// Density-weighted integral over the section of M(point, .). The section is swept by rays from
/// the point to the rim; on a ray the kernel is t ln t, which t = u^3 makes smooth.
double flux_at(const Torus& torus, Spread spread, double s, double phi) {
  const double a = torus.section_radius;
  const Point p{torus.mean_radius + s * std::cos(phi), s * std::sin(phi)};
  const auto ray = [&](double angle) {
    const double br = torus.mean_radius + a * std::cos(phi + angle) - p.r;
    const double bz = a * std::sin(phi + angle) - p.z;
    const auto along = [&](double u) {
      const double t = u * u * u;
      const double r = p.r + t * br;
      return 3.0 * u * u * t * density(r, spread) * mutual_inductance(p.r, r, t * bz);
    };
    return a * (a - s * std::cos(angle)) * integrate(along, 0.0, 1.0, 10);
  };
  const auto both = [&](double angle) { return ray(angle) + ray(-angle); };
  return integrate_panels(both, doubling_angles(1.0 - s / a), 8);
}

/// Integral over the section of f(s, phi) in polar coordinates about its centre, f even in phi.
template <class F>
double over_section(double a, const F& f, int rings, int angles) {
  double sum = 0.0;
  for (int k = 0; k < angles; ++k) {
    const double phi = kPi * (k + 0.5) / angles;
    sum += integrate([&](double s) { return s * f(s, phi); }, 0.0, a, rings);
  }
  return 2.0 * kPi / angles * sum;
}

}  // namespace

double mutual_inductance(double r1, double r2, double z) {
  const double far = (r1 + r2) * (r1 + r2) + z * z;
  const double near = ((r1 - r2) * (r1 - r2) + z * z) / far;
  const double k = std::sqrt(4.0 * r1 * r2 / far);
  const double rd = boost::math::ellint_rd(0.0, near, 1.0);
  const double rf = boost::math::ellint_rf(0.0, near, 1.0);
  return kMu0 * std::sqrt(r1 * r2) * k * (2.0 / 3.0 * rd - rf);
}

double torus_inductance(const Torus& torus, Spread spread) {
  const double a = torus.section_radius;
  const auto weight = [&](double s, double phi) {
    return density(torus.mean_radius + s * std::cos(phi), spread);
  };
  const auto energy = [&](double s, double phi) {
    return weight(s, phi) * flux_at(torus, spread, s, phi);
  };
  const double current = over_section(a, weight, 16, 24);
  return over_section(a, energy, 10, 10) / (current * current);
}

double torus_inductance_series(const Torus& torus) {
  const double q = torus.section_radius / torus.mean_radius;
  const double log = std::log(8.0 / q);
  return kMu0 * torus.mean_radius * (log - 1.75 + q * q / 8.0 * (log + 1.0 / 3.0));
}

double torus_mutual(const Torus& torus, double z) {
  const double a = torus.section_radius;
  const int angles = 16;
  // The second section is summed over all its angles, so the first sees an even function only
  // after adding its mirror image.
  const auto from = [&](double s, double phi) {
    const double r1 = torus.mean_radius + s * std::cos(phi);
    const double z1 = s * std::sin(phi);
    const auto to = [&](double t, double psi) {
      const double r2 = torus.mean_radius + t * std::cos(psi);
      const double z2 = t * std::sin(psi);
      return 0.25 *
             (mutual_inductance(r1, r2, z + z2 - z1) + mutual_inductance(r1, r2, z - z2 - z1) +
              mutual_inductance(r1, r2, z + z2 + z1) + mutual_inductance(r1, r2, z - z2 + z1));
    };
    return over_section(a, to, 6, angles / 2);
  };
  const double area = kPi * a * a;
  return over_section(a, from, 6, angles / 2) / (area * area);
}

double row_inductance(const RingRow& row) {
  double sum = row.count * torus_inductance(row.torus, Spread::uniform);
  for (int n = 1; n < row.count; ++n) {
    sum += 2.0 * (row.count - n) * torus_mutual(row.torus, n * row.pitch);
  }
  return sum;
}

double row_inductance_filament_mutuals(const RingRow& row) {
  const double r = row.torus.mean_radius;
  double sum = row.count * torus_inductance(row.torus, Spread::uniform);
  for (int n = 1; n < row.count; ++n) {
    sum += 2.0 * (row.count - n) * mutual_inductance(r, r, n * row.pitch);
  }
  return sum;
}

double torus_resistance_uniform(const Torus& torus, double rho) {
  return rho * 2.0 * torus.mean_radius / (torus.section_radius * torus.section_radius);
}

double torus_resistance_solid(const Torus& torus, double rho) {
  return torus_resistance_tube(torus, 0.0, rho);
}

double torus_resistance_tube(const Torus& torus, double bore, double rho) {
  const double r2 = torus.mean_radius * torus.mean_radius;
  const double a2 = torus.section_radius * torus.section_radius;
  return rho / (std::sqrt(r2 - bore * bore) - std::sqrt(r2 - a2));
}

LoopField loop_field(double loop, double r, double z) {
  const double far = (loop + r) * (loop + r) + z * z;
  const double near = (loop - r) * (loop - r) + z * z;
  const double rf = boost::math::ellint_rf(0.0, near / far, 1.0);
  const double rd = boost::math::ellint_rd(0.0, near / far, 1.0);
  const double k2 = 4.0 * loop * r / far;
  const double e = rf - k2 / 3.0 * rd;
  const double front = kMu0 / (2.0 * kPi * std::sqrt(far));
  const double axial = front * (rf + (loop * loop - r * r - z * z) / near * e);
  if (r == 0.0) {
    return {0.0, axial};
  }
  return {front * z / r * (-rf + (loop * loop + r * r + z * z) / near * e), axial};
}

}  // namespace cw::reference
