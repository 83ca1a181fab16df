#include "solver/run/warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "mesh/planar/outline.hpp"
#include "solver/field/law_validity.hpp"

namespace cw {

namespace {

/// What one effective permeability cannot represent: thin parts, hysteresis, reactance deep in
/// saturation. Figures from a comparison with time stepping (tests/published).
void warn_of_saturation(const Heater& subject, const StateResult& state,
                        std::vector<std::string>& warnings) {
  if (!state.saturation || !state.skin_depth) return;
  if (state.saturation->relative_permeability <= 1.0) return;  // too hot to be magnetic
  const Material& metal = subject.workpiece->material;
  const double initial = metal.initial_permeability(*state.workpiece_temperature);
  const LawValidity law =
      law_validity(half_thickness(subject.workpiece->outline.profile), *state.skin_depth,
                   state.saturation->relative_permeability / initial);
  if (!law.valid)
    warnings.push_back(
        fmt::format("{}: half its thickness is {:.2g} skin depths, too thin for a single "
                    "permeability over the period: its power may be {:+.0f} to {:+.0f} % off.",
                    metal.name, law.depths, 100 * law.lowest_error, 100 * law.highest_error));
  const double peak = std::sqrt(2.0) * *state.surface_field_rms;
  if (metal.magnetisation_curve && peak > metal.magnetisation_curve->field.back())
    warnings.push_back(
        fmt::format("{}: its B(H) table ends at {:.3g} kA/m and the field reaches {:.3g} kA/m "
                    "peak: beyond the table its magnetisation is kept constant.",
                    metal.name, metal.magnetisation_curve->field.back() / 1e3, peak / 1e3));
  if (peak > 20e3)
    warnings.push_back(
        fmt::format("{} is deep in saturation ({:.3g} kA/m peak): the reactance that it adds may "
                    "be up to 16 % too high.",
                    metal.name, peak / 1e3));
  else
    warnings.push_back(
        fmt::format("{}: loss from hysteresis is left out; at such fields ({:.3g} kA/m peak) hard "
                    "steel may take about 30 % more power.",
                    metal.name, peak / 1e3));
}

/// The drive is solved as if the tank voltage were a pure sine; at a low loaded Q it is not.
void warn_of_harmonics(const Heater& subject, const StateResult& state,
                       std::vector<std::string>& warnings) {
  constexpr double negligible = 0.01;
  if (!tank_rings(subject.drive) || !state.tank) return;
  const double coil = state.coil.inductance + subject.tank->joints.inductance;
  const HarmonicError e = ask(tank_circuit(subject).drive, [&](const auto& drive) {
    return harmonic_error(drive, state.tank->loaded_q, coil);
  });
  if (std::max({e.frequency, e.voltage_peak, e.supply_current}) < negligible) return;
  warnings.push_back(fmt::format(
      "at a loaded Q of {:.2g} the tank voltage is not a pure sine: its frequency may be up to "
      "{:.1f} % lower, its peak voltage up to {:.1f} % and the supply current up to {:.1f} % "
      "higher than stated.",
      state.tank->loaded_q, 100 * e.frequency, 100 * e.voltage_peak, 100 * e.supply_current));
}

/// Warns of properties at temperatures beyond their data. The value at the nearest end of the data
/// was used.
void warn_of_range(const Material& metal, Temperature t, std::vector<std::string>& warnings) {
  const auto check = [&](const char* what, const Law& law) {
    if (law.covers(t)) return;
    warnings.push_back(fmt::format(
        "{}: its {} is known from {:.0f} to {:.0f} degC; at {:.0f} degC the value at the "
        "nearest end is used.",
        metal.name, what, law.lowest - zero_celsius, law.highest - zero_celsius, t.in_celsius()));
  };
  if (!metal.insulator()) check("resistivity", metal.resistivity);
}

/// The same for a body, at a uniform temperature or at every point of its profile.
void warn_of_range(const Material& metal, const TemperatureProfile& profile, Temperature uniform,
                   std::vector<std::string>& warnings) {
  if (profile.empty()) warn_of_range(metal, uniform, warnings);
  for (const TemperaturePoint& p : profile) warn_of_range(metal, p.temperature, warnings);
}

}  // namespace

void warn_of_states(const Heater& subject, const std::vector<StateResult>& states,
                    std::vector<std::string>& warnings) {
  std::set<std::string> said(warnings.begin(), warnings.end());
  for (const StateResult& state : states) {
    std::vector<std::string> own;
    warn_of_saturation(subject, state, own);
    warn_of_harmonics(subject, state, own);
    if (tank_use(subject.drive) == TankUse::in_series && state.tank)
      own.push_back(
          fmt::format("bridge and bank are not checked: compare {:.3g} A rms, and {:.3g} V rms on "
                      "the bank, with "
                      "their data sheets.",
                      state.tank->current_rms, state.tank->voltage_rms));
    if (subject.workpiece && state.workpiece_temperature) {
      const Temperature work = *state.workpiece_temperature;
      const bool as_given = state.name == "cold" || state.name == "fixed_frequency";
      if (as_given && !subject.workpiece->temperature_profile.empty())
        own.push_back(
            "the temperature stated for the workpiece is that of its surface; inside, the given "
            "profile holds.");
      warn_of_range(subject.workpiece->material,
                    as_given ? subject.workpiece->temperature_profile : TemperatureProfile{}, work,
                    own);
      for (const Body& body : subject.bodies)
        warn_of_range(body.material, body.temperature_profile, body.temperature.value_or(work),
                      own);
    }
    if (state.supply && state.supply->limited && state.supply->current == 0)
      own.push_back(
          fmt::format("the load asks for {:.3g} A and the supply stops: the figures are those of a "
                      "supply that gives it.",
                      state.supply->demand));
    for (const std::string& text : own) {
      const std::string line =
          states.size() == 1 ? text : fmt::format("State {}: {}", state.name, text);
      if (said.insert(line).second) warnings.push_back(line);
    }
  }
}

void warn_of_accuracy(const SolvedState& state, std::vector<std::string>& warnings) {
  if (!state.shortfall) return;
  const Shortfall& s = *state.shortfall;
  const auto region = static_cast<std::size_t>(s.region);
  warnings.push_back(fmt::format(
      "state {}: the estimated error of a figure is {:.2g} times the one asked for; most of it "
      "comes from {} near r = {:.4g} mm, z = {:.4g} mm, which {} unknowns do not resolve. The "
      "figures carry their errors.",
      state.name, s.excess, s.region > 0 ? state.mesh->region_name[region] : "the air",
      1e3 * s.at.r, 1e3 * s.at.z, state.unknowns));
}

void warn_of_heating(const HeatResult& heat, std::vector<std::string>& warnings) {
  if (heat.ended == "interrupted")
    warnings.push_back(
        fmt::format("Heating run: stopped by the user after {:.3g} s; its figures end there. "
                    "--resume continues it.",
                    heat.lines.back().time));
  if (heat.ended == "supply")
    warnings.push_back(fmt::format(
        "Heating run: the supply stops after {:.3g} s, with the surface at {:.0f} degC.",
        heat.lines.back().time, heat.lines.back().surface - zero_celsius));
  if (heat.interpolation_error > 0.005)
    warnings.push_back(
        fmt::format("Heating run: power between updates of the field may be off by {:.1f} % of the "
                    "energy induced.",
                    100 * heat.interpolation_error));
}

}  // namespace cw
