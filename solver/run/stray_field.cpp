#include "solver/run/stray_field.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "solver/heater/rings.hpp"
#include "solver/limits/reference_levels.hpp"

namespace cw {

namespace {

constexpr double farthest = 20.0, nearest_distance = 1e-3;  // [m]

/// The closed path through the given points.
std::vector<Filament> loop_through(const std::vector<Vector3>& corners) {
  std::vector<Filament> loop;
  for (std::size_t k = 0; k < corners.size(); ++k)
    loop.push_back({corners[k], corners[(k + 1) % corners.size()], 1.0});
  return loop;
}

std::vector<Filament> lead_loop(const Coil& coil, double mean, double outside) {
  if (!coil.leads) return {};
  const double half = coil.leads->spacing / 2;
  if (coil.shape == CoilShape::flat || coil.shape == CoilShape::rings) {
    const double end = outside + coil.leads->length;
    return loop_through({{outside, 0, half}, {end, 0, half}, {end, 0, -half}, {outside, 0, -half}});
  }
  // The coil's axial current, spread over its turns, acts outside them like a wire on the axis. The
  // closing run returns it just clear of the turns.
  const double top = coil.turns * coil.pitch / 2;
  const double run = std::max(mean + 1.5 * coil.conductor.radial_size(), outside);
  const double end = run + coil.leads->length;
  return loop_through({{0, 0, -top},
                       {0, 0, top},
                       {run, 0, top},
                       {run, 0, half},
                       {end, 0, half},
                       {end, 0, -half},
                       {run, 0, -half},
                       {run, 0, -top}});
}

/// The largest distance at which the field still exceeds `level` [m]; 0 when nowhere.
double keep_out(const std::function<double(double)>& field, double level) {
  double outer = farthest;
  if (field(outer) > level) return outer;
  while (outer > nearest_distance) {
    const double inner = outer / 1.3;
    if (field(inner) > level) {
      double low = inner, high = outer;
      for (int k = 0; k < 25; ++k) {
        const double middle = 0.5 * (low + high);
        (field(middle) > level ? low : high) = middle;
      }
      return high;
    }
    outer = inner;
  }
  return 0.0;
}

ExposureResult exposure_of(const SolvedState& state, const StrayField& stray,
                           const std::vector<ReferenceLevel>& levels) {
  ExposureResult e;
  e.at_state = state.name;
  e.distances = {0.05, 0.1, 0.2, 0.3, 0.5, 1.0, 2.0};
  for (const double d : e.distances) {
    e.axis_rms.push_back(stray.on_axis(d));
    e.beside_rms.push_back(stray.beside(d));
    e.field_rms.push_back(std::max(e.axis_rms.back(), e.beside_rms.back()));
  }
  const auto worst = [&](double d) { return std::max(stray.on_axis(d), stray.beside(d)); };
  for (const ReferenceLevel& level : levels) {
    e.levels.push_back({level.name, level.flux_rms, keep_out(worst, level.flux_rms)});
    if (level.general_public && !e.keep_out) {
      e.keep_out = e.levels.back().keep_out;
      e.reference = level.name + "; the local rule decides";
    }
  }
  return e;
}

}  // namespace

StrayField::StrayField(const Heater& subject, const SolvedState& state)
    : coil_(*state.mesh, state.field), current_(state.current), extent_(extent_of(subject.coil)) {
  double mean = 0;
  const auto places = ring_places(subject.coil);
  for (const RingPlace& p : places) mean += p.r / static_cast<double>(places.size());
  leads_ = lead_loop(subject.coil, mean, extent_.outer);
}

double StrayField::strength(double radius, double azimuth, double z) const {
  const auto [radial, axial] = coil_({radius, z});
  const double c = std::cos(azimuth), s = std::sin(azimuth);
  const Vector3 leads = flux_of_filaments(leads_, {radius * c, radius * s, z});
  double largest = 0;
  for (const double sign : {1.0, -1.0}) {
    const double b = sign * current_;
    largest = std::max(largest, std::norm(radial * c + b * leads[0]) +
                                    std::norm(radial * s + b * leads[1]) +
                                    std::norm(axial + b * leads[2]));
  }
  return std::sqrt(largest);
}

double StrayField::on_axis(double distance) const {
  return std::max(strength(0, 0, extent_.high + distance), strength(0, 0, extent_.low - distance));
}

double StrayField::beside(double distance) const {
  return at({extent_.outer + distance, extent_.middle()});
}

double StrayField::at(Point place) const {
  using std::numbers::pi;
  return std::max(strength(place.r, pi / 2, place.z), strength(place.r, pi, place.z));
}

std::optional<ExposureResult> heater_exposure(const Heater& subject,
                                              std::span<const SolvedState> states) {
  std::optional<ExposureResult> worst;
  double farthest_yet = -1;
  for (const SolvedState& state : states) {
    const auto levels = reference_levels(state.frequency);
    if (levels.empty() || state.current < 0.1 || state.mesh->open_radius <= 0) continue;
    const ExposureResult e = exposure_of(state, StrayField(subject, state), levels);
    // Judged by the keep-out distance of the strictest level, or, if no level is exceeded, by the
    // field at 0.1 m.
    const double reach = e.keep_out.value_or(0.0) + 1e-6 * e.field_rms[1];
    if (reach <= farthest_yet) continue;
    farthest_yet = reach;
    worst = e;
  }
  return worst;
}

}  // namespace cw
