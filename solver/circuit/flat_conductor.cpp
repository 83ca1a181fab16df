#include "solver/circuit/flat_conductor.hpp"

#include <cmath>
#include <numbers>

#include "materials/solder.hpp"
#include "solver/circuit/leads.hpp"

namespace cw {

namespace {

double copper_thickness(const FlatConductor& c) {
  return c.thickness + c.strap;
}

double skin_depth_of(double resistivity, Frequency f) {
  return std::sqrt(2 * resistivity / (f.omega() * mu0));
}

/// Sheet conductance of a layer down to its skin depth [S].
double sheet(double thickness, double resistivity, Frequency f) {
  const double depth = skin_depth_of(resistivity, f);
  return depth * (1 - std::exp(-thickness / depth)) / resistivity;
}

/// Heat capacity of copper per volume [J/(m3 K)]: 8930 kg/m3 times 385 J/(kg K), handbook figures.
constexpr double copper_capacity = 8930.0 * 385.0;
/// The same of 63/37 solder: 8400 kg/m3 times 150 J/(kg K) (from memory).
constexpr double solder_capacity = 8400.0 * 150.0;

double capacity_per_metre(const FlatConductor& c) {
  return c.width * (copper_thickness(c) * copper_capacity + c.solder * solder_capacity);
}

/// Loss of one of the parallel conductors per metre [W/m].
double loss_per_metre(const FlatConductor& c, double current, Frequency f, Temperature t) {
  const double one = current / c.in_parallel;
  return one * one * flat_resistance(c, f, t) * c.in_parallel / c.length;
}

}  // namespace

double copper_resistivity(Temperature t) {
  return 1e-6 / 58 * (1 + 0.00393 * (t.in_celsius() - 20));
}

double flat_resistance(const FlatConductor& c, Frequency f, Temperature t) {
  const Bar bar{c.width, copper_thickness(c), 0.0, 1 / copper_resistivity(t)};
  const double copper = internal_impedance(equivalent_round(bar), f).resistance_ohm;
  const double share = solder_share(c, f, t);
  return (1 - share) * copper * c.length / c.in_parallel;
}

double solder_share(const FlatConductor& c, Frequency f, Temperature t) {
  if (c.solder <= 0) return 0.0;
  const double solder = sheet(c.solder, solder_resistivity, f);
  return solder / (solder + sheet(copper_thickness(c), copper_resistivity(t), f));
}

double heat_to_air(const FlatConductor& c, double rise) {
  if (rise <= 0) return 0.0;
  const double area = c.width * copper_thickness(c);
  if (c.kind == FlatConductor::Kind::board) {
    constexpr double square_mil = 25.4e-6 * 25.4e-6;
    const double amperes = 0.048 * std::pow(rise, 0.44) * std::pow(area / square_mil, 0.725);
    // The curves are for tracks near room temperature.
    return amperes * amperes * copper_resistivity(Temperature::celsius(20 + rise)) / area;
  }
  const double perimeter_mm = 2e3 * (c.width + copper_thickness(c));
  const double amperes = 7.73 * std::sqrt(1e6 * area) * std::pow(perimeter_mm, 0.39);
  return amperes * amperes * copper_resistivity(Temperature::celsius(90)) / area *
         std::pow(rise / 50, 1.22);
}

ConductorHeat heat_of(const FlatConductor& c, double current, Frequency f, Temperature air) {
  constexpr double hottest = 400.0;  // rise: far beyond what solder and board withstand
  ConductorHeat heat;
  const auto balance = [&](double rise) {
    return loss_per_metre(c, current, f, {air.kelvin + rise}) - heat_to_air(c, rise);
  };
  double rise = 0.0;
  if (balance(hottest) < 0) {
    double low = 0.0, high = hottest;
    for (int k = 0; k < 60; ++k) {
      rise = 0.5 * (low + high);
      (balance(rise) > 0 ? low : high) = rise;
    }
    heat.rise_K = rise;
  }
  const double to_solder = solder_softens.kelvin - air.kelvin;
  if (!heat.rise_K || *heat.rise_K > to_solder) {
    // Equal steps of temperature, midpoint rule: the rate changes slowly between them.
    constexpr int steps = 200;
    double seconds = 0;
    for (int k = 0; k < steps; ++k) {
      const double at = (k + 0.5) * to_solder / steps;
      seconds += to_solder / steps * capacity_per_metre(c) / balance(at);
    }
    heat.softens_s = seconds;
  }
  heat.resistance_ohm = flat_resistance(c, f, {air.kelvin + (heat.rise_K ? rise : to_solder)});
  heat.loss_W = current * current * heat.resistance_ohm;
  return heat;
}

std::optional<double> width_for(const FlatConductor& c, double current, Frequency f, double rise) {
  const auto holds = [&](double width) {
    FlatConductor wider = c;
    wider.width = width;
    return loss_per_metre(wider, current, f, Temperature::celsius(20 + rise)) <
           heat_to_air(wider, rise);
  };
  if (!holds(1.0)) return std::nullopt;
  double low = 1e-4, high = 1.0;
  for (int k = 0; k < 50; ++k) {
    const double middle = std::sqrt(low * high);
    (holds(middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace cw
