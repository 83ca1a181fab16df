#include <fmt/core.h>

#include <numbers>
#include <set>

#include "materials/figures.hpp"
#include "postproc/chart/charts_of_result.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/text/summary_sections.hpp"

namespace cw {

namespace {

using State = const StateResult&;

std::string optional_watts(const std::optional<double>& watts) {
  return watts ? shown(*watts, "W") : "";
}

StateGroup working_point() {
  return {
      "Working point",
      {{"Frequency", [](State s) { return shown(s.frequency.hertz, "Hz"); }},
       {"Workpiece temperature",
        [](State s) {
          return s.workpiece_temperature ? shown_celsius(*s.workpiece_temperature) : "";
        }},
       {"Coil current, rms", [](State s) { return shown(s.drive.current_rms, "A"); }},
       {"Coil current, peak",
        [](State s) { return shown(std::numbers::sqrt2 * s.drive.current_rms, "A"); }},
       {"Voltage on coil and leads, rms", [](State s) { return shown(s.drive.voltage_rms, "V"); }},
       {"Voltage on coil and leads, peak",
        [](State s) { return shown(std::numbers::sqrt2 * s.drive.voltage_rms, "V"); }},
       {"Energy in the field, average", [](State s) { return shown(s.energy, "J"); }}}};
}

StateGroup tank() {
  const auto row = [](const char* name, double TankResult::*member, const char* unit) {
    return StateRow{name, [=](State s) { return s.tank ? shown((*s.tank).*member, unit) : ""; }};
  };
  return {"Tank",
          {row("Tank voltage, rms", &TankResult::voltage_rms, "V"),
           row("Tank voltage, peak", &TankResult::voltage_peak, "V"),
           row("Tank current, rms", &TankResult::current_rms, "A"),
           row("Capacitor current, rms, whole bank", &TankResult::capacitor_current_rms, "A"),
           row("Reactive power", &TankResult::reactive_power, "var"),
           {"Loaded Q", [](State s) { return s.tank ? figure(s.tank->loaded_q) : ""; }}}};
}

StateGroup supply() {
  const auto row = [](const char* name, double SupplyResult::*member, const char* unit) {
    return StateRow{name,
                    [=](State s) { return s.supply ? shown((*s.supply).*member, unit) : ""; }};
  };
  return {"Supply, direct current",
          {row("Voltage", &SupplyResult::voltage, "V"),
           row("Current", &SupplyResult::current, "A"),
           row("Current asked for", &SupplyResult::demand, "A"),
           row("Power", &SupplyResult::power, "W"),
           {"Current limit", [](State s) {
              // The other figures of the column then hold until it switches off.
              return std::string(!s.supply                ? ""
                                 : !s.supply->limited     ? "does not act"
                                 : s.supply->voltage > 0. ? "acts"
                                                          : "switches off");
            }}}};
}

StateGroup powers(const std::vector<StateResult>& states) {
  StateGroup group{"Power",
                   {{"Workpiece", [](State s) { return optional_watts(s.power.workpiece); }}}};
  std::set<std::string> bodies;
  for (const auto& state : states) {
    for (const auto& [name, watts] : state.power.bodies) bodies.insert(name);
  }
  for (const auto& name : bodies) {
    group.rows.push_back({capitalised(escaped(name)), [name](State s) {
                            const auto found = s.power.bodies.find(name);
                            return found == s.power.bodies.end() ? "" : shown(found->second, "W");
                          }});
  }
  const auto part = [&](const char* name, std::optional<double> PowerBalance::*member) {
    group.rows.push_back({name, [=](State s) { return optional_watts(s.power.*member); }});
  };
  group.rows.push_back({"Coil", [](State s) { return shown(s.power.coil, "W"); }});
  group.rows.push_back({"Leads", [](State s) { return shown(s.power.leads, "W"); }});
  part("Joints", &PowerBalance::joints);
  part("Capacitors", &PowerBalance::capacitors);
  part("Switches", &PowerBalance::switches);
  part("Chokes", &PowerBalance::chokes);
  part("Cable", &PowerBalance::cable);
  part("Battery", &PowerBalance::battery);
  group.rows.push_back({"Total", [](State s) { return shown(s.power.total, "W"); }});
  group.rows.push_back({"Efficiency, useful over total",
                        [](State s) { return s.efficiency ? shown_percent(*s.efficiency) : ""; }});
  return group;
}

StateGroup work() {
  return {"In the workpiece",
          {{"Skin depth", [](State s) { return s.skin_depth ? shown_mm(*s.skin_depth) : ""; }},
           {"Field at the surface, largest, rms",
            [](State s) { return s.surface_field_rms ? shown(*s.surface_field_rms, "A/m") : ""; }},
           {"Relative permeability there",
            [](State s) {
              return s.saturation ? figure_short(s.saturation->relative_permeability) : "";
            }},
           {"Skin depth over the surface, least",
            [](State s) { return s.saturation ? shown_mm(s.saturation->least_skin_depth) : ""; }},
           {"Skin depth over the surface, largest",
            [](State s) { return s.saturation ? shown_mm(s.saturation->largest_skin_depth) : ""; }},
           {"Power within the skin depth", [](State s) {
              return s.saturation ? shown_percent(s.saturation->share_in_first_skin_depth) : "";
            }}}};
}

/// Power per volume in the usual unit.
std::string per_volume(double density) {
  return shown(1e-6 * density, "W/cm\u00b3");
}

StateGroup densities(const std::vector<StateResult>& states) {
  std::set<std::string> names;
  for (const auto& state : states) {
    for (const auto& [name, density] : state.power.density) names.insert(name);
  }
  StateGroup group{"Power density", {}};
  for (const auto& name : names) {
    const auto add = [&](const char* which, double PowerDensity::*member) {
      group.rows.push_back({fmt::format("{}, {}", capitalised(escaped(name)), which), [=](State s) {
                              const auto found = s.power.density.find(name);
                              return found == s.power.density.end()
                                         ? ""
                                         : per_volume(found->second.*member);
                            }});
    };
    add("mean", &PowerDensity::mean);
    add("largest", &PowerDensity::highest);
    add("least", &PowerDensity::lowest);
  }
  return group;
}

std::string quiet(const std::string& text) {
  return text.empty() ? "" : fmt::format("<p class=\"quiet\">{}</p>\n", escaped(text));
}

}  // namespace

PageSection states_section(const Result& result) {
  if (result.states.empty()) return {};
  return {"states", "Table of states",
          chart_figure(powers_chart(result)) + chart_figure(demand_chart(result)) +
              chart_figure(frequency_chart(result)) +
              state_table("Calculated states", result.states,
                          {working_point(), tank(), supply(), powers(result.states), work(),
                           densities(result.states)}) +
              quiet(states_not_met(result))};
}

}  // namespace cw
