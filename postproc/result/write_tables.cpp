#include "postproc/result/write_tables.hpp"

#include <fmt/core.h>

#include <array>

namespace cw {

namespace {

/// A field of a table, quoted where the comma-separated form asks for it (RFC 4180).
std::string field(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

/// Every watt of a state once.
std::vector<std::pair<std::string, double>> parts_of(const PowerBalance& power) {
  std::vector<std::pair<std::string, double>> parts;
  const auto add = [&](const char* name, const std::optional<double>& watts) {
    if (watts) parts.emplace_back(name, *watts);
  };
  add("workpiece", power.workpiece);
  for (const auto& body : power.bodies) parts.push_back(body);
  add("coil", power.coil);
  add("leads", power.leads);
  add("joints", power.joints);
  add("capacitors", power.capacitors);
  add("switches", power.switches);
  add("chokes", power.chokes);
  add("cable", power.cable);
  add("battery", power.battery);
  return parts;
}

}  // namespace

std::string turns_table(const Result& result) {
  std::string table = "state,turn,r [m],z [m],weight,voltage rms [V],current rms [A],loss [W]\n";
  for (const auto& state : result.states) {
    int number = 0;
    for (const auto& turn : state.coil.turns) {
      table += fmt::format("{},{},{},{},{},{},{},{}\n", field(state.name), ++number, turn.r, turn.z,
                           turn.weight, turn.voltage_rms, turn.current_rms, turn.loss);
    }
  }
  return table;
}

std::string powers_table(const Result& result) {
  std::string table = "state,part,power [W],share of total\n";
  for (const auto& state : result.states) {
    const double total = state.power.total;
    const auto line = [&](const std::string& part, double watts) {
      table += fmt::format("{},{},{},{}\n", field(state.name), field(part), watts,
                           total > 0.0 ? watts / total : 0.0);
    };
    for (const auto& [part, watts] : parts_of(state.power)) line(part, watts);
    line("total", total);
  }
  return table;
}

std::string history_table(const HeatResult& heat) {
  struct Column {
    const char* name;
    std::optional<double> (*of)(const HeatLine&);
  };
  using Line = const HeatLine&;
  using Value = std::optional<double>;
  constexpr std::array columns = {
      Column{"time [s]", [](Line l) -> Value { return l.time; }},
      Column{"surface [K]", [](Line l) -> Value { return l.surface; }},
      Column{"centre [K]", [](Line l) -> Value { return l.centre; }},
      Column{"coldest [K]", [](Line l) -> Value { return l.coldest; }},
      Column{"mean [K]", [](Line l) -> Value { return l.mean; }},
      Column{"hottest [K]", [](Line l) -> Value { return l.hottest; }},
      Column{"frequency [Hz]", [](Line l) -> Value { return l.frequency; }},
      Column{"tank current rms [A]", [](Line l) -> Value { return l.tank_current; }},
      Column{"supply current [A]", [](Line l) { return l.supply_current; }},
      Column{"supply current asked for [A]", [](Line l) { return l.demand; }},
      Column{"power in the work [W]", [](Line l) -> Value { return l.work_W; }},
      Column{"power in the coil [W]", [](Line l) -> Value { return l.coil_W; }},
      Column{"power lost by the work [W]", [](Line l) -> Value { return l.lost_W; }},
      Column{"total power [W]", [](Line l) -> Value { return l.total_W; }},
      Column{"loaded Q", [](Line l) { return l.loaded_q; }},
      Column{"thermometer shows [K]", [](Line l) { return l.thermometer; }},
      Column{"depth past Ac3 [m]", [](Line l) { return l.hardened_depth; }},
      Column{"mass above the mark [kg]", [](Line l) -> Value { return l.mass_above; }},
      Column{"spread along the surface [K]", [](Line l) -> Value { return l.spread; }},
  };
  std::vector<Column> shown;
  for (const Column& c : columns)
    if (!heat.lines.empty() && c.of(heat.lines.front())) shown.push_back(c);
  std::string table;
  for (const Column& c : shown) table += fmt::format("{}{}", table.empty() ? "" : ",", c.name);
  table += '\n';
  for (const HeatLine& line : heat.lines) {
    for (std::size_t k = 0; k < shown.size(); ++k)
      table += fmt::format("{}{}", k > 0 ? "," : "", shown[k].of(line).value_or(0.0));
    table += '\n';
  }
  return table;
}

}  // namespace cw
