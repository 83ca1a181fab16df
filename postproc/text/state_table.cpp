#include "postproc/text/summary_sections.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "materials/figures.hpp"
#include "postproc/result/designs.hpp"

namespace cw {

namespace {

using State = const StateResult&;

struct SummaryLine {
  std::string label;
  std::function<std::string(State)> cell;
};

std::string if_there(const std::optional<double>& value, double scale = 1.0) {
  return value ? figure(scale * *value) : "-";
}

std::string in_body(State s, const std::string& name) {
  const auto found = s.power.bodies.find(name);
  return found == s.power.bodies.end() ? "-" : figure(found->second);
}

/// The rows in the order a builder reads them; a row that is empty in every state is left out.
std::vector<SummaryLine> rows(const Result& result) {
  std::vector<SummaryLine> all{
      {"temperature, degC",
       [](State s) {
         return s.workpiece_temperature ? figure(s.workpiece_temperature->in_celsius()) : "-";
       }},
      {"frequency, kHz", [](State s) { return figure(s.frequency.hertz / 1e3); }},
      {"tank, V rms", [](State s) { return s.tank ? figure(s.tank->voltage_rms) : "-"; }},
      {"tank, V peak", [](State s) { return s.tank ? figure(s.tank->voltage_peak) : "-"; }},
      {"coil, A rms", [](State s) { return figure(s.drive.current_rms); }},
      {"capacitors, A rms",
       [](State s) { return s.tank ? figure(s.tank->capacitor_current_rms) : "-"; }},
      {"reactive, kvar",
       [](State s) { return s.tank ? figure(s.tank->reactive_power / 1e3) : "-"; }},
      {"loaded Q", [](State s) { return s.tank ? figure(s.tank->loaded_q) : "-"; }},
      {"supply, V", [](State s) { return s.supply ? figure(s.supply->voltage) : "-"; }},
      {"supply, A", [](State s) { return s.supply ? figure(s.supply->current) : "-"; }},
      {"supply asked for, A", [](State s) { return s.supply ? figure(s.supply->demand) : "-"; }},
      {"inductance, uH", [](State s) { return figure(1e6 * s.coil.inductance); }},
      {"resistance, mohm", [](State s) { return figure(1e3 * s.coil.resistance); }},
      {"skin depth, mm", [](State s) { return if_there(s.skin_depth, 1e3); }},
      {"mu_r at the surface",
       [](State s) { return s.saturation ? figure(s.saturation->relative_permeability) : "-"; }},
      {"workpiece, W", [](State s) { return if_there(s.power.workpiece); }}};
  std::map<std::string, double> names;
  for (State s : result.states)
    for (const auto& [name, power] : s.power.bodies) names[name] += power;
  for (const auto& [name, power] : names)
    all.push_back(
        {fmt::format("{:.18}, W", name), [name = name](State s) { return in_body(s, name); }});
  const std::vector<SummaryLine> rest{
      {"coil, W", [](State s) { return figure(s.power.coil); }},
      {"leads and joints, W",
       [](State s) { return figure(s.power.leads + s.power.joints.value_or(0)); }},
      {"capacitors, W", [](State s) { return if_there(s.power.capacitors); }},
      {"switches, chokes, W",
       [](State s) { return figure(s.power.switches.value_or(0) + s.power.chokes.value_or(0)); }},
      {"cable, battery, W",
       [](State s) {
         if (!s.power.cable && !s.power.battery) return std::string("-");
         return figure(s.power.cable.value_or(0) + s.power.battery.value_or(0));
       }},
      {"total, W", [](State s) { return figure(s.power.total); }},
      {"efficiency, %", [](State s) { return if_there(s.efficiency, 100); }},
      {"error of work, %", [](State s) { return if_there(s.accuracy.workpiece_power, 100); }},
      {"error of L, %", [](State s) { return if_there(s.accuracy.inductance, 100); }}};
  all.insert(all.end(), rest.begin(), rest.end());
  return all;
}

}  // namespace

std::string state_table(const Result& result) {
  std::string text = fmt::format("\n{:<20}", "State");
  for (State s : result.states) text += fmt::format(" {:>11.11}", short_label(s.name));
  text += "\n";
  for (const SummaryLine& row : rows(result)) {
    std::string line = fmt::format("{:<20.20}", row.label);
    bool any = false;
    for (State s : result.states) {
      const std::string cell = row.cell(s);
      any = any || cell != "-";
      line += fmt::format("{:>12}", cell);
    }
    if (any) text += line + "\n";
  }
  return text;
}

std::string states_not_met(const Result& result) {
  std::string names;
  for (const StateResult& state : result.states)
    if (!state.met) names += (names.empty() ? "" : ", ") + state.name;
  std::ranges::replace(names, '_', ' ');
  return names.empty() ? ""
                       : fmt::format(
                             "The heating ends before the work is this hot: {}. No part is checked "
                             "in that state.",
                             names);
}

}  // namespace cw
