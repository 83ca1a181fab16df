// Current sheets and thick windings of loops.hpp.
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/ellint_rd.hpp>
#include <boost/math/special_functions/ellint_rf.hpp>

#include "tests/published/reference/loops.hpp"

namespace cw::reference {

double nagaoka(double diameter_over_length) {
  const double x2 = diameter_over_length * diameter_over_length;
  const double k2 = x2 / (1.0 + x2);
  const double k = std::sqrt(k2);
  const double complement2 = 1.0 / (1.0 + x2);
  const double first = boost::math::ellint_rf(0.0, complement2, 1.0);
  const double difference = k2 / 3.0 * boost::math::ellint_rd(0.0, complement2, 1.0);
  const double second = first - difference;
  return 4.0 / (3.0 * kPi * std::sqrt(complement2)) * (complement2 / k2 * difference + second - k);
}

double lundin(double diameter_over_length) {
  const auto f1 = [](double x) {
    return (1.0 + 0.383901 * x + 0.017108 * x * x) / (1.0 + 0.258952 * x);
  };
  const auto f2 = [](double x) { return 0.093842 * x + 0.002029 * x * x - 0.000801 * x * x * x; };
  const double d = diameter_over_length;
  if (d <= 1.0) {
    return f1(d * d) - 4.0 * d / (3.0 * kPi);
  }
  const double x = 1.0 / (d * d);
  return 2.0 / (kPi * d) * ((std::log(4.0 * d) - 0.5) * f1(x) + f2(x));
}

double winding_kernel(const ThickCoil& coil, double alpha) {
  const double width = coil.outer - coil.inner;
  const int panels = 1 + static_cast<int>(alpha * width / 4.0);
  double sum = 0.0;
  for (int i = 0; i < panels; ++i) {
    const double lower = coil.inner + width * i / panels;
    const double upper = coil.inner + width * (i + 1) / panels;
    sum += integrate([&](double r) { return r * boost::math::cyl_bessel_j(1, alpha * r); }, lower,
                     upper, 8);
  }
  return sum;
}

double thick_coil_inductance(const ThickCoil& coil) {
  const double width = coil.outer - coil.inner;
  const double l = coil.length;
  const auto kernel = [&](double alpha) {
    const double radial = winding_kernel(coil, alpha);
    const double x = alpha * l;
    // Twice the double integral of exp(-alpha |z - z'|) over the length, over alpha^2 l^2 / 2.
    const double axial = x < 1e-3 ? 0.5 - x / 6.0 : (x + std::exp(-x) - 1.0) / (x * x);
    return radial * radial * axial * 2.0 * l * l;
  };
  // The kernel falls as alpha^-4; what is cut off is of relative order (1/200)^3.
  const double last = 200.0 / std::min(width, l);
  const double density = coil.turns / (l * width);
  return kPi * kMu0 * density * density *
         integrate_panels(kernel, graded_edges(2.0 / coil.outer, last), 8);
}

}  // namespace cw::reference
