#include "solver/circuit/choke.hpp"

#include <fmt/core.h>

#include <cassert>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/circuit/part_value.hpp"

namespace cw {

double ripple_factor(int chokes) {
  assert(chokes == 1 || chokes == 2);
  using std::numbers::pi;
  if (chokes == 1) {
    const double b = std::asin(2.0 / pi);
    return (2.0 * b - pi * (1.0 - std::cos(b))) / (2.0 * pi);
  }
  const double a = std::asin(1.0 / pi);
  return (pi + 2.0 * a - 2.0 * pi * (1.0 - std::cos(a))) / (2.0 * pi);
}

ChokeLoad choke_load(const Choke& choke, const DrivePoint& point, Frequency f) {
  const double mean = point.supply_current_A / choke.count;
  const double ripple =
      ripple_factor(choke.count) * point.effective_V / (f.hertz * choke.inductance);
  const double peak = mean + 0.5 * ripple;
  return {.mean_A = mean,
          .ripple_peak_to_peak_A = ripple,
          .peak_A = peak,
          .energy_J = 0.5 * choke.inductance * peak * peak};
}

std::complex<double> choke_admittance(const Choke& choke, Frequency f) {
  if (std::isinf(choke.inductance)) return 0.0;
  const double reactance = f.omega() * choke.inductance;
  constexpr double ripple = 0.5 - 4.0 / (std::numbers::pi * std::numbers::pi);
  if (choke.count == 1) return {0.0, -0.5 * ripple / reactance};
  return 0.5 / std::complex(choke.resistance, reactance) - std::complex(0.0, ripple / reactance);
}

void require_usable(const Choke& choke) {
  if (choke.count != 1 && choke.count != 2) {
    throw std::invalid_argument(fmt::format(
        "choke count is {}; it must be 1 (into the coil's centre tap) or 2 (one to each drain): "
        "write count = 2",
        choke.count));
  }
  if (!(choke.inductance > 0.0)) {
    throw std::invalid_argument(fmt::format(
        "choke inductance is {:.6g} H; it must be positive: write inductance = \"150 uH\"",
        choke.inductance));
  }
  require_not_negative("choke resistance [ohm]", choke.resistance, "\"14 mohm\"");
}

}  // namespace cw
