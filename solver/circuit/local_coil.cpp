#include "solver/circuit/local_coil.hpp"

#include <algorithm>
#include <cmath>

namespace cw {
namespace {

struct Step {
  double frequency, current;  // natural logarithms of the ratios
};

Step between(const CoilPoint& from, const CoilPoint& to) {
  return {std::log(to.frequency.hertz / from.frequency.hertz),
          std::log(to.current_rms_A / from.current_rms_A)};
}

}  // namespace

CoilImpedance LocalCoil::operator()(const CoilPoint& point) const {
  const Step d = between(at, point);
  const double r =
      std::exp(resistance_by_frequency * d.frequency + resistance_by_current * d.current);
  const double l =
      std::exp(inductance_by_frequency * d.frequency + inductance_by_current * d.current);
  return {.resistance_ohm = r * value.resistance_ohm,
          .inductance_H = l * value.inductance_H,
          .lead_resistance_ohm = r * value.lead_resistance_ohm};
}

double distance(const CoilPoint& a, const CoilPoint& b) {
  const Step d = between(a, b);
  return std::max(std::abs(d.frequency), std::abs(d.current));
}

LocalCoil secant_update(const LocalCoil& old, const CoilPoint& point, const CoilImpedance& solved) {
  LocalCoil next = old;
  next.at = point;
  next.value = solved;
  const Step d = between(old.at, point);
  const double square = d.frequency * d.frequency + d.current * d.current;
  if (square < 1e-14) return next;  // so close, noise of the field solution would look like a slope
  const CoilImpedance expected = old(point);
  const double r = std::log(solved.resistance_ohm / expected.resistance_ohm) / square;
  const double l = std::log(solved.inductance_H / expected.inductance_H) / square;
  const auto changed = [](double slope, double by, double low, double high) {
    return std::clamp(slope + by, low, high);
  };
  next.resistance_by_frequency = changed(old.resistance_by_frequency, r * d.frequency, -1.5, 2.0);
  next.resistance_by_current = changed(old.resistance_by_current, r * d.current, -1.5, 2.0);
  next.inductance_by_frequency = changed(old.inductance_by_frequency, l * d.frequency, -0.8, 0.8);
  next.inductance_by_current = changed(old.inductance_by_current, l * d.current, -0.8, 0.8);
  return next;
}

}  // namespace cw
