#include "postproc/result/write_tables.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <string_view>

#include "materials/number.hpp"

namespace cw {

namespace {

/// "-1.2", "+5e-3", "-7.5 mm".
bool is_number(std::string_view text) {
  if (text.front() != '-' && text.front() != '+') return false;
  const LeadingNumber number = read_leading_number(text);
  return number.complaint.empty() && std::ranges::all_of(number.rest, [](char c) {
           return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '/' || c == '%';
         });
}

/// Whether a spreadsheet would evaluate a cell instead of showing it. Source: OWASP, CSV Injection
/// (from memory).
bool runs_in_a_spreadsheet(const std::string& text) {
  constexpr std::string_view starts = "=+-@\t\r\n";
  return !text.empty() && starts.find(text.front()) != std::string_view::npos && !is_number(text);
}

}  // namespace

std::vector<std::pair<std::string, double>> power_parts(const PowerBalance& power) {
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

std::string table_field(const std::string& given) {
  const std::string text = runs_in_a_spreadsheet(given) ? "'" + given : given;
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

std::string turns_table(const Result& result) {
  std::string table = "state,turn,r [m],z [m],weight,voltage rms [V],current rms [A],loss [W]\n";
  for (const auto& state : result.states) {
    int number = 0;
    for (const auto& turn : state.coil.turns) {
      table += fmt::format("{},{},{},{},{},{},{},{}\n", table_field(state.name), ++number, turn.r,
                           turn.z, turn.weight, turn.voltage_rms, turn.current_rms, turn.loss);
    }
  }
  return table;
}

std::string powers_table(const Result& result) {
  std::string table = "state,part,power [W],share of total\n";
  for (const auto& state : result.states) {
    const double total = state.power.total;
    const auto line = [&](const std::string& part, double watts) {
      table += fmt::format("{},{},{},{}\n", table_field(state.name), table_field(part), watts,
                           total > 0.0 ? watts / total : 0.0);
    };
    for (const auto& [part, watts] : power_parts(state.power)) line(part, watts);
    line("total", total);
  }
  return table;
}

std::string tube_table(const StillAirCooling& air) {
  std::string table = "switched,time [s],tube temperature [degC]\n";
  for (const TubePoint& p : air.points)
    table += fmt::format("{},{},{}\n", p.on ? "on" : "off", p.time, p.temperature.in_celsius());
  return table;
}

std::string stray_table(const ExposureResult& e) {
  std::string table = "distance [m],flux density rms on the axis [T],beside the coil [T]\n";
  for (std::size_t i = 0; i < e.axis_rms.size(); ++i)
    table += fmt::format("{},{},{}\n", e.distances[i], e.axis_rms[i], e.beside_rms[i]);
  return table;
}

}  // namespace cw
