#include "tests/published/reference/skin.hpp"

#include "tests/published/reference/bessel.hpp"

namespace cw::reference {
namespace {

/// Argument (1+j) ratio of the Bessel functions.
Complex argument(double ratio) {
  return Complex(1.0, 1.0) * ratio;
}

/// I_m(q)/I_n(q).
Complex i_over_i(int upper, int lower, Complex q) {
  return scaled_i(upper, q) / scaled_i(lower, q);
}

}  // namespace

double skin_depth(const Metal& metal, double frequency) {
  return std::sqrt(metal.rho / (kPi * frequency * kMu0 * metal.mu_r));
}

double surface_resistance(const Metal& metal, double frequency) {
  return metal.rho / skin_depth(metal, frequency);
}

Complex round_wire_ratio(double radius_over_depth) {
  const Complex q = argument(radius_over_depth);
  return 0.5 * q * i_over_i(0, 1, q);
}

double round_wire_inductance_ratio(double radius_over_depth) {
  // X/R0 = w (mu0/8pi) ratio pi a^2/rho = ratio (a/d)^2/4.
  return 4.0 * round_wire_ratio(radius_over_depth).imag() / (radius_over_depth * radius_over_depth);
}

Complex tube_impedance(const Tube& tube, const Metal& metal, double frequency) {
  const Complex k = argument(1.0 / skin_depth(metal, frequency));
  const Complex qa = k * tube.inner;
  const Complex qb = k * tube.outer;
  // I(qb) K(qa) ~ exp(qb - qa) is divided out, which leaves K(qb) I(qa) with this factor.
  const Complex fade = std::exp(-2.0 * (qb - qa));
  const Complex above =
      scaled_i(0, qb) * scaled_k(1, qa) + scaled_k(0, qb) * scaled_i(1, qa) * fade;
  const Complex below =
      scaled_i(1, qb) * scaled_k(1, qa) - scaled_i(1, qa) * scaled_k(1, qb) * fade;
  return metal.rho * k / (2.0 * kPi * tube.outer) * above / below;
}

double slab_loss_ratio(double thickness_over_depth) {
  const double t = 2.0 * thickness_over_depth;
  return (std::sinh(t) + std::sin(t)) / (std::cosh(t) - std::cos(t));
}

Complex cylinder_loss_functions(double radius_over_depth) {
  return Complex(1.0, 1.0) * i_over_i(1, 0, argument(radius_over_depth));
}

Complex effective_permeability(double radius_over_depth) {
  const Complex q = argument(radius_over_depth);
  return 2.0 * i_over_i(1, 0, q) / q;
}

double cylinder_power(double radius, const Metal& metal, double frequency, double peak_field) {
  const double depth = skin_depth(metal, frequency);
  const double f = cylinder_loss_functions(radius / depth).real();
  return kPi * radius * metal.rho / depth * peak_field * peak_field * f;
}

TubeResponse tube_in_axial_field(const Tube& tube, double rho, double frequency,
                                 double peak_field) {
  const Complex k = argument(1.0 / skin_depth({rho}, frequency));
  const Complex qa = k * tube.inner;
  const Complex qb = k * tube.outer;
  // H(r) = A I0(kr) + B K0(kr), both scaled to their size at the inner face.
  const Complex grow = std::exp(qb - qa);
  const Complex bore = kJ * kPi * frequency * kMu0 * tube.inner / (rho * k);
  const Complex a = scaled_k(1, qa) + bore * scaled_k(0, qa);
  const Complex b = scaled_i(1, qa) - bore * scaled_i(0, qa);
  const Complex inside = a * scaled_i(0, qa) + b * scaled_k(0, qa);
  const Complex outside = a * scaled_i(0, qb) * grow + b * scaled_k(0, qb) / grow;
  const Complex slope = k * (a * scaled_i(1, qb) * grow - b * scaled_k(1, qb) / grow);
  const double power = kPi * tube.outer * rho * (slope / outside).real() * peak_field * peak_field;
  return {inside / outside, power};
}

double transverse_wire_function(double radius_over_depth) {
  return i_over_i(2, 0, argument(radius_over_depth)).imag();
}

double transverse_wire_power(double radius, double rho, double frequency, double peak_field) {
  const double w = 2.0 * kPi * frequency;
  return kPi * w * kMu0 * radius * radius * peak_field * peak_field *
         transverse_wire_function(radius / skin_depth({rho}, frequency));
}

double thick_skin_efficiency(double coil_over_work_diameter, double coil_rho, const Metal& work) {
  return 1.0 / (1.0 + coil_over_work_diameter * std::sqrt(coil_rho / (work.rho * work.mu_r)));
}

double solenoid_efficiency(double coil_over_work_diameter, double coil_rho, const Metal& work,
                           double work_diameter_over_depth) {
  const double f = cylinder_loss_functions(0.5 * work_diameter_over_depth).real();
  return 1.0 / (1.0 + coil_over_work_diameter * std::sqrt(coil_rho / (work.rho * work.mu_r)) / f);
}

}  // namespace cw::reference
