#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "materials/figures.hpp"
#include "materials/quantity.hpp"
#include "postproc/result/designs.hpp"

namespace cw {

namespace {

/// Units that end the name of a result key, and how they are written.
constexpr std::array<std::pair<std::string_view, std::string_view>, 14> units{{
    {"_A_per_m", "A/m"},
    {"_ohm", "ohm"},
    {"_var", "var"},
    {"_Hz", "Hz"},
    {"_W", "W"},
    {"_A", "A"},
    {"_V", "V"},
    {"_H", "H"},
    {"_K", "K"},
    {"_J", "J"},
    {"_s", "s"},
    {"_m", "m"},
    {"_T", "T"},
    {"_F", "F"},
}};

/// Names for keys whose plain words would be unclear.
constexpr std::array<std::pair<std::string_view, std::string_view>, 15> key_names{{
    {"power.workpiece", "power in the workpiece"},
    {"power.coil", "coil loss"},
    {"power.total", "total power"},
    {"supply.demand", "current asked of the supply"},
    {"tank.voltage_rms", "tank voltage, rms"},
    {"tank.current_rms", "tank current, rms"},
    {"time_to_target", "time to the target"},
    {"coil.inductance", "inductance"},
    {"coil.resistance", "series resistance"},
    {"tank.loaded_q", "loaded Q"},
    {"supply.power", "power from the supply"},
    {"stall", "temperature where heating stops"},
    {"exposure.keep_out", "keep-out distance"},
    {"cooling.water.outlet", "water outlet"},
    {"surface_field_rms", "field at the surface, rms"},
}};

std::string plain_key(std::string words) {
  std::replace(words.begin(), words.end(), '_', ' ');
  std::replace(words.begin(), words.end(), '.', ' ');
  return words;
}

}  // namespace

std::string short_label(const std::string& key) {
  return plain_key(key.substr(key.rfind('.') + 1));  // npos + 1 is 0
}

std::string setting_words(const std::string& key, const std::string& value) {
  const std::string name = short_label(key);
  return name == "turns" ? fmt::format("{} turns", value) : fmt::format("{} {}", name, value);
}

std::string key_label(const std::string& key) {
  std::string name = key, state, unit;
  for (const auto& [ending, written] : units) {
    if (!name.ends_with(ending)) continue;
    unit = written;
    name.resize(name.size() - ending.size());
    break;
  }
  if (name.starts_with("states.")) {
    const auto dot = name.find('.', 7);
    if (dot != std::string::npos) {
      state = name.substr(7, dot - 7);
      name.erase(0, dot + 1);
    }
  }
  if (name.starts_with("heat.")) name.erase(0, 5);
  for (const auto& [known, words] : key_names)
    if (name == known) name = words;
  name = plain_key(name);
  if (!state.empty() && state != "fixed_frequency") name += ", " + plain_key(state);
  return unit.empty() ? name : name + " [" + unit + "]";
}

std::string key_name(const std::string& key) {
  const std::string label = key_label(key);
  return label.substr(0, label.find(" ["));
}

std::string key_value(const std::string& key, double value) {
  if (key.ends_with("efficiency") || key.ends_with(".fraction")) return percent(value);
  const std::string label = key_label(key);
  const std::size_t open = label.find(" [");
  if (open == std::string::npos) return figure(value);
  const std::string unit = label.substr(open + 2, label.size() - open - 3);
  if (unit == "K") return fmt::format("{} degC", figure(value - zero_celsius));
  if (unit == "m") return fmt::format("{} mm", figure(1e3 * value));
  return figure(value, unit);
}

}  // namespace cw
