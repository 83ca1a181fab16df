#include "tests/published/reference/melting_rod.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cw::reference {

namespace {

using std::numbers::pi;

/// Temperature of the charge for its enthalpy above 0 K per volume: latent heat spread evenly
/// between solidus and liquidus, on top of its heat capacity.
double charge_temperature(const MeltingRod& rod, double enthalpy) {
  const double c = rod.charge.capacity, at_solidus = c * rod.solidus;
  const double at_liquidus = c * rod.liquidus + rod.latent;
  if (enthalpy <= at_solidus) return enthalpy / c;
  if (enthalpy >= at_liquidus) return rod.liquidus + (enthalpy - at_liquidus) / c;
  return rod.solidus +
         (enthalpy - at_solidus) / (at_liquidus - at_solidus) * (rod.liquidus - rod.solidus);
}

/// Where the temperature falls through the solidus, by a straight line between cell centres.
double front_of(const MeltingRod& rod, const std::vector<double>& kelvin, int cells) {
  const double step = rod.charge_radius / cells;
  if (kelvin[0] >= rod.solidus) return 0.0;
  for (int i = 1; i < cells; ++i)
    if (kelvin[i] >= rod.solidus)
      return step * (i - 0.5 + (rod.solidus - kelvin[i - 1]) / (kelvin[i] - kelvin[i - 1]));
  return rod.charge_radius;
}

}  // namespace

std::vector<MeltingMoment> melt_rod(const MeltingRod& rod, int cells, double between,
                                    double until) {
  const int n = 2 * cells;
  const double inner = rod.charge_radius / cells,
               outer = (rod.cup_radius - rod.charge_radius) / cells;
  std::vector<double> face(n + 1), enthalpy(n), kelvin(n, rod.start), flow(n + 1, 0.0), volume(n);
  for (int i = 0; i <= n; ++i)
    face[i] = i <= cells ? i * inner : rod.charge_radius + (i - cells) * outer;
  for (int i = 0; i < n; ++i) {
    volume[i] = pi * (face[i + 1] * face[i + 1] - face[i] * face[i]);
    enthalpy[i] = (i < cells ? rod.charge.capacity : rod.cup.capacity) * rod.start;
  }
  const auto quickest = [](const MeltingRod::Substance& s, double step) {
    return step * step * s.capacity / s.conductivity;
  };
  // 0.4 of what an explicit rule bears.
  const double bearable = 0.2 * std::min(quickest(rod.charge, inner), quickest(rod.cup, outer));
  const int steps = static_cast<int>(std::ceil(between / bearable));
  const double step = between / steps;
  std::vector<MeltingMoment> moments;
  for (int k = 1; k * between <= until * (1 + 1e-12); ++k) {
    for (int m = 0; m < steps; ++m) {
      for (int i = 1; i < n; ++i) {  // outward through face i
        double resistance =
            i < cells ? inner / rod.charge.conductivity : outer / rod.cup.conductivity;
        if (i == cells)
          resistance = 0.5 * inner / rod.charge.conductivity + 1 / rod.contact +
                       0.5 * outer / rod.cup.conductivity;
        flow[i] = 2 * pi * face[i] * (kelvin[i - 1] - kelvin[i]) / resistance;
      }
      for (int i = 0; i < n; ++i) {
        const double heating = i >= cells ? rod.power : 0.0;
        enthalpy[i] += step * (heating + (flow[i] - flow[i + 1]) / volume[i]);
        kelvin[i] =
            i < cells ? charge_temperature(rod, enthalpy[i]) : enthalpy[i] / rod.cup.capacity;
      }
    }
    const double inwards = -flow[cells] / (2 * pi * rod.charge_radius);  // [W/m^2]
    moments.push_back({k * between, front_of(rod, kelvin, cells),
                       kelvin[cells - 1] + 0.5 * inner * inwards / rod.charge.conductivity,
                       kelvin[0]});
  }
  return moments;
}

}  // namespace cw::reference
