#include "solver/circuit/leads.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <complex>
#include <numbers>
#include <stdexcept>
#include <vector>

#include "solver/heater/conductor.hpp"

namespace cw {
namespace {

using Complex = std::complex<double>;

void require_apart(const RoundConductor& c, double spacing) {
  const double diameter = 2.0 * c.outer_radius;
  if (std::isfinite(spacing) && spacing > diameter) return;
  throw std::invalid_argument(fmt::format(
      "leads spacing is {:.4g} mm centre to centre; it must be more than the conductor's outside "
      "diameter of {:.4g} mm: write spacing = \"{:.4g} mm\" or more",
      1e3 * spacing, 1e3 * diameter, 1.5e3 * diameter));
}

/// A length that must be zero or more.
void require_length(const char* what, double length) {
  if (std::isfinite(length) && length >= 0.0) return;
  throw std::invalid_argument(fmt::format(
      "{} is {} m; it must be zero or more: write a length such as 120 mm", what, length));
}

/// Mutual inductance of the run with the coil's axial current, an even sheet of filaments around
/// the coil; the mean over a circle converges exponentially while the run is clear of the turns.
double axial_mutual(const LeadLoop& leads) {
  constexpr int filaments = 128;
  double sum = 0.0;
  for (int i = 0; i < filaments; ++i) {
    const double angle = 2.0 * std::numbers::pi * (i + 0.5) / filaments;
    const double distance = std::hypot(leads.run_distance - leads.coil_radius * std::cos(angle),
                                       leads.coil_radius * std::sin(angle));
    sum += parallel_filaments(leads.coil_length, distance);
  }
  return sum / filaments;
}

/// Reduction of the pair's mutual inductance below ln(s/a) by the currents that each conductor's
/// field induces in the other, in units of mu0/pi per metre.
///
/// A conductor with unit mu0 I/2 pi carries the outer potential -ln r + sum c_n (a/r)^n cos n phi.
/// The field of the other conductor, with opposite sign and expanded about the centre of the first
/// one with q = a/s, excites it with e_m = -q^m/m - sum_n T_mn c_n, T_mn = q^(m+n) (m+n-1)!/(m!
/// (n-1)!), and c_m = -kappa_m e_m. Its mean potential is ln s - sum c_n q^n.
Complex reaction(const std::vector<Complex>& kappa, double q) {
  const std::size_t orders = kappa.size();
  std::vector<Complex> c(orders);
  double change = 1.0;
  for (int sweep = 0; sweep < 2000 && change > 1e-13; ++sweep) {
    change = 0.0;
    double direct = 1.0;
    for (std::size_t m = 1; m <= orders; ++m) {
      direct *= q;
      Complex field = -direct / static_cast<double>(m);
      double coupling = direct * q;  // T_m1
      for (std::size_t n = 1; n <= orders; ++n) {
        field -= coupling * c[n - 1];
        coupling *= q * static_cast<double>(m + n) / static_cast<double>(n);
      }
      const Complex next = -kappa[m - 1] * field;
      change = std::max(change, std::abs(next - c[m - 1]));
      c[m - 1] = next;
    }
  }
  Complex sum = 0.0;
  double power = 1.0;
  for (const Complex& term : c) sum += term * (power *= q);
  return sum;
}

}  // namespace

RoundConductor equivalent_round(const Bar& bar) {
  const double thin = std::min(bar.width, bar.height);
  if (!(thin > 0.0) || !(bar.wall >= 0.0)) {
    throw std::invalid_argument(
        fmt::format("bar is {} m by {} m with wall {} m; sides must be positive and the wall not "
                    "negative: write bar = [\"8 mm\", \"4 mm\"]",
                    bar.width, bar.height, bar.wall));
  }
  const RoundEquivalent round =
      RectangularBar{bar.width, bar.height, bar.wall > 0.0 ? std::optional(bar.wall) : std::nullopt}
          .equivalent();
  return {.outer_radius = round.outer_radius, .wall = round.wall, .conductivity = bar.conductivity};
}

SeriesImpedance parallel_pair(const RoundConductor& c, double spacing, Frequency f) {
  require_usable(c, f);
  require_apart(c, spacing);
  const double q = c.outer_radius / spacing;
  // The coefficients fall like exp(-n acosh(s/d)): the limit point of the image currents.
  const double decay = std::acosh(spacing / (2.0 * c.outer_radius));
  const int orders = static_cast<int>(std::clamp(std::ceil(30.0 / decay), 4.0, 150.0));
  const SeriesImpedance own = internal_impedance(c, f);
  const Complex drop = reaction(transverse_response(c, f, orders), q);
  const double scale = mu0 / std::numbers::pi;
  return {.resistance_ohm = 2.0 * own.resistance_ohm + f.omega() * scale * drop.imag(),
          .inductance_H = 2.0 * own.inductance_H + scale * (-std::log(q) - drop.real())};
}

double parallel_filaments(double length, double distance) {
  assert(length > 0.0 && distance > 0.0);
  return mu0 / (2.0 * std::numbers::pi) *
         (length * std::asinh(length / distance) - std::hypot(length, distance) + distance);
}

SeriesImpedance closing_run(const LeadLoop& leads, Frequency f) {
  require_length("closing run", leads.coil_length);
  require_length("distance of the closing run from the coil's axis", leads.run_distance);
  require_length("mean coil radius", leads.coil_radius);
  if (leads.run_distance > 0.0 && leads.coil_radius >= leads.run_distance) {
    throw std::invalid_argument(
        fmt::format("the closing run is {} m from the coil's axis and the turns {} m; it must pass "
                    "outside them: write a distance above the mean coil radius",
                    leads.run_distance, leads.coil_radius));
  }
  if (leads.coil_length == 0.0) return {};
  const SeriesImpedance own = internal_impedance(leads.conductor, f);
  const double length = leads.coil_length;
  double inductance = parallel_filaments(length, leads.conductor.outer_radius);
  if (leads.run_distance > 0.0) inductance -= 2.0 * axial_mutual(leads);
  return {.resistance_ohm = length * own.resistance_ohm,
          .inductance_H = length * own.inductance_H + inductance};
}

SeriesImpedance leads_impedance(const LeadLoop& leads, Frequency f) {
  require_length("leads length", leads.one_way_length);
  const SeriesImpedance pair = parallel_pair(leads.conductor, leads.spacing, f);
  const SeriesImpedance run = closing_run(leads, f);
  return {.resistance_ohm = leads.one_way_length * pair.resistance_ohm + run.resistance_ohm,
          .inductance_H = leads.one_way_length * pair.inductance_H + run.inductance_H};
}

}  // namespace cw
