#include "postproc/report/sweep_figures.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <string_view>

#include "materials/figures.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/text/limit_words.hpp"

namespace cw {

namespace {

constexpr std::array<std::string_view, 12> of_states = {
    "frequency_Hz",       "power.workpiece_W", "power.coil_W",        "power.total_W",
    "efficiency",         "coil.inductance_H", "coil.resistance_ohm", "tank.voltage_rms_V",
    "tank.current_rms_A", "tank.loaded_q",     "supply.demand_A",     "supply.power_W"};
constexpr std::array<std::string_view, 5> of_the_run = {"heat.time_to_target_s", "heat.stall_K",
                                                        "heat.energy_J", "cooling.water.outlet_K",
                                                        "exposure.keep_out_m"};

/// The name of a limit: "can, current rms: share of its limit".
std::string limit_name(const std::string& key) {
  const std::size_t first = key.find('.') + 1, second = key.find('.', first);
  const std::size_t last = key.rfind('.');
  return fmt::format("{}, {}: share of its limit", key.substr(first, second - first),
                     limit_quantity(key.substr(second + 1, last - second - 1)).words);
}

bool wanted(const std::string& key) {
  if (key.starts_with("states.")) {
    const std::size_t dot = key.find('.', 7);
    if (dot == std::string::npos) return false;
    const std::string_view rest = std::string_view(key).substr(dot + 1);
    return std::find(of_states.begin(), of_states.end(), rest) != of_states.end();
  }
  if (key.starts_with("limits.")) return key.ends_with(".fraction");
  return std::find(of_the_run.begin(), of_the_run.end(), key) != of_the_run.end();
}

/// Position in the order for the maker: the run, the states in their order, the limits.
std::size_t rank(const std::string& key, const std::vector<StateResult>& states) {
  if (key.starts_with("limits.")) return 1000;
  for (std::size_t k = 0; k < states.size(); ++k)
    if (key.starts_with(fmt::format("states.{}.", states[k].name))) {
      const std::string_view rest = std::string_view(key).substr(8 + states[k].name.size());
      const auto* const at = std::find(of_states.begin(), of_states.end(), rest);
      return 20 * (k + 1) + static_cast<std::size_t>(at - of_states.begin());
    }
  return 0;
}

}  // namespace

std::optional<double> SweepFigure::of(const Figures& figures) const {
  const auto value = figure_of(figures, key);
  return value ? std::optional(scale * *value + offset) : std::nullopt;
}

SweepFigure sweep_figure(const std::string& key) {
  if (key.starts_with("limits.") && key.ends_with(".fraction"))
    return {key, limit_name(key), "%", 100.0, 0.0};
  const std::string label = key_label(key);
  if (key.ends_with("efficiency")) return {key, label, "%", 100.0, 0.0};
  const std::size_t open = label.find(" [");
  if (open == std::string::npos) return {key, label, "", 1.0, 0.0};
  const std::string name = label.substr(0, open),
                    unit = label.substr(open + 2, label.size() - open - 3);
  if (unit == "K") return {key, name, "degC", 1.0, -zero_celsius};
  return {key, name, unit, 1.0, 0.0};
}

std::vector<SweepFigure> sweep_figures(const DesignsFile& designs) {
  std::vector<std::string> keys;
  for (const auto* list : {&designs.best, &designs.breaking})
    for (const Figures& figures : *list)
      for (const auto& [key, value] : figures)
        if (wanted(key) && std::find(keys.begin(), keys.end(), key) == keys.end())
          keys.push_back(key);
  std::stable_sort(keys.begin(), keys.end(), [&](const std::string& a, const std::string& b) {
    return rank(a, designs.leading.states) < rank(b, designs.leading.states);
  });
  std::vector<SweepFigure> shown;
  for (const std::string& key : {designs.sheet.rank, designs.sheet.against})
    if (!key.empty()) shown.push_back(sweep_figure(key));
  for (const std::string& key : keys) {
    SweepFigure figure = sweep_figure(key);
    if (std::none_of(shown.begin(), shown.end(),
                     [&](const SweepFigure& other) { return other.name == figure.name; }))
      shown.push_back(std::move(figure));
  }
  return shown;
}

std::string shown_figure(const SweepFigure& f, double value) {
  if (f.unit == "degC") return shown_celsius(Temperature{value + zero_celsius});
  if (f.unit == "m") return shown_mm(value);
  if (f.unit.empty() || f.unit == "%") return figure(value) + (f.unit.empty() ? "" : "\u00a0%");
  return shown(value, f.unit);
}

}  // namespace cw
