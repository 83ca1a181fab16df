#include "solver/circuit/coaxial_loops.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

#include "materials/quantity.hpp"

namespace cw {

double coaxial_mutual(double r1, double r2, double z) {
  assert(r1 > 0.0 && r2 > 0.0 && (z != 0.0 || r1 != r2));
  const double far2 = (r1 + r2) * (r1 + r2) + z * z;
  const double near2 = (r1 - r2) * (r1 - r2) + z * z;
  const double k2 = 4.0 * r1 * r2 / far2;
  // Arithmetic-geometric mean: K = pi/(2 a), K - E = K sum 2^(n-1) c_n^2 (Abramowitz & Stegun 17.6,
  // from memory). The n = 0 term k^2/2 cancels against (2/k - k), which leaves no cancellation.
  double a = 1.0;
  double b = std::sqrt(near2 / far2);
  double c = k2 / (2.0 * (1.0 + b));
  double sum = 0.0;
  for (double power = 1.0; power * c * c > 1e-17 * sum; power *= 2.0) {
    const double mean = (a + b) / 2.0;
    b = std::sqrt(a * b);
    a = mean;
    sum += power * c * c;
    c = c * c / (4.0 * (a + b) / 2.0);
  }
  return mu0 * std::sqrt(r1 * r2 / k2) * std::numbers::pi / a * sum;
}

}  // namespace cw
