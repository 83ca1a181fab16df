#include "solver/heater/rings.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "materials/quantity.hpp"

namespace cw {

namespace {

/// Mutual inductance of two coaxial circles [H], by complete elliptic integrals of modulus k.
double mutual(const RingPlace& a, const RingPlace& b) {
  const double sum = a.r + b.r, dz = a.z - b.z;
  const double k2 = 4.0 * a.r * b.r / (sum * sum + dz * dz);
  const double k = std::sqrt(k2);
  if (!(k < 1.0)) return 0.0;  // the same circle twice: overlap is reported elsewhere
  return mu0 * std::sqrt(a.r * b.r) *
         ((2.0 / k - k) * std::comp_ellint_1(k) - 2.0 / k * std::comp_ellint_2(k));
}

}  // namespace

RingRow ring_row(const Coil& coil) {
  if (coil.shape == CoilShape::rings) return {static_cast<int>(coil.rings.size()), 0.0};
  const double n = std::ceil(coil.turns - 1e-6);  // 8.0000000001 are 8
  if (!(n >= 1.0) || n > 1e6) return {};          // refused by check_case
  return {static_cast<int>(n), coil.turns * coil.pitch / n};
}

std::vector<RingPlace> ring_places(const Coil& coil) {
  std::vector<RingPlace> places;
  if (coil.shape == CoilShape::rings) {
    for (const Ring& ring : coil.rings) places.push_back({ring.r, ring.z, 1.0});
    return places;
  }
  const auto [count, spacing] = ring_row(coil);
  const double half_conductor = coil.conductor.radial_size() / 2.0;
  const double bore_end = coil.bore_end.value_or(coil.bore);
  for (int i = 0; i < count; ++i) {
    RingPlace place{coil.bore / 2.0 + half_conductor, 0.0, coil.turns / count};
    if (coil.shape == CoilShape::flat) {
      place.r += (i + 0.5) * spacing;  // its mean radius: the spiral begins at the clear bore
    } else {
      place.z = (i - (count - 1) / 2.0) * spacing;
    }
    if (coil.shape == CoilShape::cone) {
      const double along = count > 1 ? static_cast<double>(i) / (count - 1) : 0.5;
      place.r = (coil.bore + along * (bore_end - coil.bore)) / 2.0 + half_conductor;
    }
    places.push_back(place);
  }
  return places;
}

CoilExtent extent_of(const Coil& coil) {
  const double radial = coil.conductor.radial_size() / 2, axial = coil.conductor.axial_size() / 2;
  const double sweep = sweep_of_turn(coil);
  CoilExtent e{1e300, 0.0, 1e300, -1e300};
  for (const RingPlace& p : ring_places(coil)) {
    e.inner = std::min(e.inner, p.r - radial - sweep);
    e.outer = std::max(e.outer, p.r + radial + sweep);
    e.low = std::min(e.low, p.z - axial);
    e.high = std::max(e.high, p.z + axial);
  }
  return e;
}

double sweep_of_turn(const Coil& coil) {
  return coil.shape == CoilShape::flat ? ring_row(coil).spacing / 2.0 : 0.0;
}

double turn_gap(const Coil& coil) {
  const double size =
      coil.shape == CoilShape::flat ? coil.conductor.radial_size() : coil.conductor.axial_size();
  return coil.turns > 1 && coil.pitch > size ? coil.pitch - size : 0.0;
}

double conductor_length(const Coil& coil) {
  const bool rises = coil.shape == CoilShape::helix || coil.shape == CoilShape::cone;
  double length = 0.0;
  for (const RingPlace& ring : ring_places(coil))
    length += ring.weight * std::hypot(2.0 * std::numbers::pi * ring.r, rises ? coil.pitch : 0.0);
  return length;
}

double rough_inductance(const Coil& coil) {
  const std::vector<RingPlace> places = ring_places(coil);
  const double a = (coil.conductor.radial_size() + coil.conductor.axial_size()) / 4.0;
  double total = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const RingPlace& own = places[i];
    total += own.weight * own.weight * mu0 * own.r * (std::log(8.0 * own.r / a) - 2.0);
    for (std::size_t j = 0; j < i; ++j) {
      total += 2.0 * own.weight * places[j].weight * mutual(own, places[j]);
    }
  }
  return total;
}

}  // namespace cw
