#include "solver/circuit/dummy_ring.hpp"

#include <cmath>
#include <numbers>

namespace cw {

RingImpedance ring_impedance(const DummyRing& ring, Frequency f) {
  constexpr double pi = std::numbers::pi;
  const double a = ring.wire_radius, around = 2 * pi * ring.radius;
  const double depth = std::sqrt(2 / (f.omega() * mu0 * ring.permeability * ring.conductivity));
  const double outside = mu0 * ring.radius * (std::log(8 * ring.radius / a) - 2);
  RingImpedance z;
  z.reactance_ohm = f.omega() * outside;
  const double direct = around / (ring.conductivity * pi * a * a);
  const double skin = around / (ring.conductivity * depth * 2 * pi * a);
  z.resistance_ohm = a < depth ? direct : std::max(direct, skin);
  // Inside: mu0 mu/8 pi per metre while current fills the wire, as much as the resistance after.
  z.reactance_ohm += a < depth ? f.omega() * around * mu0 * ring.permeability / (8 * pi) : skin;
  return z;
}

double ring_power(const DummyRing& ring, Frequency f, double flux_rms) {
  const RingImpedance z = ring_impedance(ring, f);
  const double voltage = f.omega() * flux_rms;
  return voltage * voltage * z.resistance_ohm /
         (z.resistance_ohm * z.resistance_ohm + z.reactance_ohm * z.reactance_ohm);
}

}  // namespace cw
