#include "tests/published/reference/dodd_deeds.hpp"

#include <boost/math/special_functions/bessel.hpp>

#include "tests/published/reference/bessel.hpp"

namespace cw::reference {
namespace {

/// How the plate reflects the harmonic exp(-alpha z): (mu_r alpha - alpha1)/(mu_r alpha + alpha1)
/// for a half-space.
Complex plate_answer(const Plate& plate, double frequency, double alpha) {
  const double depth = skin_depth(plate.metal, frequency);
  const Complex inside = std::sqrt(Complex(alpha * alpha, 2.0 / (depth * depth)));
  const Complex minus = plate.metal.mu_r * alpha - inside;
  const Complex plus = plate.metal.mu_r * alpha + inside;
  const Complex fade =
      std::isinf(plate.thickness) ? 0.0 : std::exp(-2.0 * inside * plate.thickness);
  return minus * plus * (1.0 - fade) / (plus * plus - minus * minus * fade);
}

}  // namespace

Complex coil_over_plate(const ThickCoil& coil, double lift, const Plate& plate, double frequency) {
  const auto kernel = [&](double alpha) {
    const double radial = winding_kernel(coil, alpha);
    const double axial = -std::expm1(-alpha * coil.length) / alpha;
    return radial * radial * axial * axial * std::exp(-2.0 * alpha * lift) *
           plate_answer(plate, frequency, alpha);
  };
  const double last = std::min(20.0 / lift, 400.0 / coil.length);
  const double density = coil.turns / (coil.length * (coil.outer - coil.inner));
  return kJ * 2.0 * kPi * frequency * kPi * kMu0 * density * density *
         integrate_panels(kernel, graded_edges(2.0 / coil.outer, last), 8);
}

Complex loop_over_plate(double loop, double lift, const Plate& plate, double frequency) {
  const auto kernel = [&](double alpha) {
    const double j1 = boost::math::cyl_bessel_j(1, alpha * loop);
    return j1 * j1 * std::exp(-2.0 * alpha * lift) * plate_answer(plate, frequency, alpha);
  };
  return kJ * 2.0 * kPi * frequency * kPi * kMu0 * loop * loop *
         integrate_panels(kernel, graded_edges(1.0 / loop, 20.0 / lift), 10);
}

Complex rod_answer(const Rod& rod, double frequency, double alpha) {
  const double x = alpha * rod.radius;
  const double i0 = boost::math::cyl_bessel_i(0, x);
  const double i1 = boost::math::cyl_bessel_i(1, x);
  const double k0 = boost::math::cyl_bessel_k(0, x);
  const double k1 = boost::math::cyl_bessel_k(1, x);
  if (rod.metal.rho == 0.0) {
    return -i1 / k1;
  }
  const double depth = skin_depth(rod.metal, frequency);
  const Complex y = rod.radius * std::sqrt(Complex(alpha * alpha, 2.0 / (depth * depth)));
  const double mx = rod.metal.mu_r * x;
  const Complex y0 = y * scaled_i(0, y);
  const Complex y1 = scaled_i(1, y);
  return (mx * i0 * y1 - y0 * i1) / (mx * k0 * y1 + y0 * k1);
}

Complex filaments_round_rod(const RingRow& rings, const Rod& rod, double frequency) {
  const double r = rings.torus.mean_radius;
  const auto kernel = [&](double alpha) {
    // |sum of exp(j alpha z_i)| of an even row.
    const double half = 0.5 * alpha * rings.pitch;
    const double sine = std::sin(half);
    const double row = sine == 0.0 ? rings.count : std::sin(rings.count * half) / sine;
    const double k1 = boost::math::cyl_bessel_k(1, alpha * r);
    return rod_answer(rod, frequency, alpha) * (k1 * k1 * row * row);
  };
  const double last = 20.0 / (r - rod.radius);
  return 2.0 * kJ * 2.0 * kPi * frequency * kMu0 * r * r *
         integrate_panels(kernel, graded_edges(3.0 / (rings.pitch * rings.count), last), 12);
}

Complex reflected_by_short(double mutual, double resistance, double inductance, double frequency) {
  const double w = 2.0 * kPi * frequency;
  return w * w * mutual * mutual / Complex(resistance, w * inductance);
}

ShellResponse shell_in_uniform_field(const Shell& shell, double frequency, double peak_b0) {
  const double depth = skin_depth({1.0 / shell.conductivity}, frequency);
  const Complex k = Complex(1.0, 1.0) / depth;
  const double a = shell.inner;
  const double b = shell.outer;
  // A_phi = (c1 u + c2 v) sin(theta), both taken relative to the inner face so nothing overflows;
  // _slope is d(r A)/dr.
  const auto u = [&](double r) {
    return std::cosh(k * (r - a)) / r - std::sinh(k * (r - a)) / (k * r * r);
  };
  const auto v = [&](double r) {
    return std::sinh(k * (r - a)) / r - std::cosh(k * (r - a)) / (k * r * r);
  };
  const auto u_slope = [&](double r) {
    return k * std::sinh(k * (r - a)) - std::cosh(k * (r - a)) / r +
           std::sinh(k * (r - a)) / (k * r * r);
  };
  const auto v_slope = [&](double r) {
    return k * std::cosh(k * (r - a)) - std::sinh(k * (r - a)) / r +
           std::cosh(k * (r - a)) / (k * r * r);
  };
  // Hollow: A = h r/2, d(rA)/dr = h r. So at a: slope = 2 A.
  const Complex c1 = v_slope(a) - 2.0 * v(a);
  const Complex c2 = -(u_slope(a) - 2.0 * u(a));
  const Complex at_b = c1 * u(b) + c2 * v(b);
  const Complex slope_b = c1 * u_slope(b) + c2 * v_slope(b);
  // Outside: A = b0 r/2 + d/(2 r^2), d(rA)/dr = b0 r - d/(2 r^2); their sum is 3 b0 b/2.
  const Complex scale = 1.5 * b / (at_b + slope_b);
  const Complex inside = scale * (c1 * u(a) + c2 * v(a)) * 2.0 / a;
  const Complex dipole = 2.0 * scale * at_b / b - 1.0;
  const double w = 2.0 * kPi * frequency;
  const double power = 4.0 * kPi / 3.0 * b * b * w / kMu0 * peak_b0 * peak_b0 *
                       (kJ * scale * at_b * std::conj(scale * slope_b) / b).real();
  return {inside, dipole, power};
}

double short_coil_resistance(const ShortCoil& coil, const Metal& work, double frequency) {
  const double depth = skin_depth(work, frequency);
  const double a = 0.5 * coil.work_diameter;
  const double ratio = (coil.work_diameter - depth) / coil.coil_diameter;
  const double q = ratio * ratio;
  const double k = nagaoka(coil.coil_diameter / coil.length) * (1.0 - q) + q;
  return 2.0 * kPi * a * work.rho / depth * cylinder_loss_functions(a / depth).real() * coil.turns *
         coil.turns * k * k / coil.length;
}

}  // namespace cw::reference
