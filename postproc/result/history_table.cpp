#include "postproc/result/history_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <span>
#include <string_view>
#include <variant>

#include "postproc/result/read_result.hpp"

namespace cw {

namespace {

/// A column: its name and its value.
struct Column {
  const char* name;
  std::variant<double HeatLine::*, std::optional<double> HeatLine::*> member;

  [[nodiscard]] std::optional<double> of(const HeatLine& line) const {
    if (const auto* plain = std::get_if<double HeatLine::*>(&member)) return line.*(*plain);
    return line.*std::get<1>(member);
  }
  void put(HeatLine& line, double value) const {
    if (const auto* plain = std::get_if<double HeatLine::*>(&member))
      line.*(*plain) = value;
    else
      line.*std::get<1>(member) = value;
  }
};

constexpr std::array history_columns = {
    Column{"time [s]", &HeatLine::time},
    Column{"surface [K]", &HeatLine::surface},
    Column{"centre [K]", &HeatLine::centre},
    Column{"coldest [K]", &HeatLine::coldest},
    Column{"mean [K]", &HeatLine::mean},
    Column{"hottest [K]", &HeatLine::hottest},
    Column{"frequency [Hz]", &HeatLine::frequency},
    Column{"tank current rms [A]", &HeatLine::tank_current},
    Column{"supply current [A]", &HeatLine::supply_current},
    Column{"supply current asked for [A]", &HeatLine::demand},
    Column{"power in the work [W]", &HeatLine::work_W},
    Column{"power in the coil [W]", &HeatLine::coil_W},
    Column{"power lost by the work [W]", &HeatLine::lost_W},
    Column{"total power [W]", &HeatLine::total_W},
    Column{"loaded Q", &HeatLine::loaded_q},
    Column{"thermometer shows [K]", &HeatLine::thermometer},
    Column{"depth past Ac3 [m]", &HeatLine::hardened_depth},
    Column{"mass above the mark [kg]", &HeatLine::mass_above},
    Column{"spread along the surface [K]", &HeatLine::spread},
    Column{"compared with the target [K]", &HeatLine::at_target},
};

std::vector<std::string_view> split(std::string_view text, char at) {
  std::vector<std::string_view> parts;
  for (std::size_t start = 0; start <= text.size();) {
    const std::size_t end = std::min(text.find(at, start), text.size());
    parts.push_back(text.substr(start, end - start));
    start = end + 1;
  }
  return parts;
}

const Column* column_named(std::string_view name) {
  for (const Column& c : history_columns)
    if (name == c.name) return &c;
  return nullptr;
}

/// Target of a column that is read: a member of the line, or of one of its bodies.
struct ReadColumn {
  const Column* known = nullptr;
  std::size_t body = 0;
  double BodyHeat::*member = nullptr;
  bool molten = false;

  void put(HeatLine& line, double value) const {
    if (known != nullptr) return known->put(line, value);
    if (member == nullptr && !molten) return;
    if (line.bodies.size() <= body) line.bodies.resize(body + 1);
    if (molten)
      line.bodies[body].molten = value;
    else
      line.bodies[body].*member = value;
  }
};

/// The columns named in the first line; those of a body begin with its mean, the bodies in their
/// order.
std::vector<ReadColumn> read_columns(const std::vector<std::string_view>& names) {
  std::vector<ReadColumn> found;
  std::size_t bodies = 0;
  for (const std::string_view name : names) {
    ReadColumn column{column_named(name)};
    const auto ends = [&](std::string_view words) { return name.ends_with(words); };
    if (column.known == nullptr && ends(": mean [K]")) ++bodies;
    if (column.known == nullptr && bodies > 0) {
      column.body = bodies - 1;
      column.member = ends(": mean [K]")      ? &BodyHeat::mean
                      : ends(": hottest [K]") ? &BodyHeat::hottest
                      : ends(": coldest [K]") ? &BodyHeat::coldest
                                              : nullptr;
      column.molten = ends(": molten");
    }
    found.push_back(column);
  }
  return found;
}

/// Empty for a workpiece alone, whose columns are above.
std::span<const HeatedBody> several_bodies(const HeatResult& heat) {
  return heat.bodies.size() > 1 ? std::span(heat.bodies) : std::span<const HeatedBody>();
}

std::string head_of(const HeatedBody& body) {
  std::string name = body.name;
  std::ranges::replace(name, ',', ' ');
  return fmt::format(",{0}: mean [K],{0}: hottest [K],{0}: coldest [K]{1}", name,
                     body.at_end.molten ? fmt::format(",{}: molten", name) : "");
}

std::string cells_of(const BodyHeat& body) {
  return fmt::format(",{},{},{}{}", body.mean, body.hottest, body.coldest,
                     body.molten ? fmt::format(",{}", *body.molten) : "");
}

}  // namespace

std::string history_table(const HeatResult& heat) {
  std::vector<Column> shown;
  for (const Column& c : history_columns)
    if (!heat.lines.empty() && c.of(heat.lines.front())) shown.push_back(c);
  std::string table;
  for (const Column& c : shown) table += fmt::format("{}{}", table.empty() ? "" : ",", c.name);
  for (const HeatedBody& body : several_bodies(heat)) table += head_of(body);
  table += '\n';
  for (const HeatLine& line : heat.lines) {
    for (std::size_t k = 0; k < shown.size(); ++k)
      table += fmt::format("{}{}", k > 0 ? "," : "", shown[k].of(line).value_or(0.0));
    if (heat.bodies.size() > 1)
      for (const BodyHeat& body : line.bodies) table += cells_of(body);
    table += '\n';
  }
  return table;
}

std::vector<HeatLine> read_history(const std::string& table, const std::string& name) {
  std::vector<ReadColumn> found;
  std::vector<HeatLine> lines;
  int number = 0;
  for (const std::string_view row : split(table, '\n')) {
    ++number;
    if (row.empty()) continue;
    const std::vector<std::string_view> fields = split(row, ',');
    if (number == 1) {
      found = read_columns(fields);
      continue;
    }
    if (fields.size() != found.size())
      throw ResultFileError(fmt::format("{}:{}: has {} values where the first line names {}.", name,
                                        number, fields.size(), found.size()));
    HeatLine& line = lines.emplace_back();
    for (std::size_t k = 0; k < fields.size(); ++k) {
      double value = 0.0;
      const auto [end, error] =
          std::from_chars(fields[k].data(), fields[k].data() + fields[k].size(), value);
      const bool whole = end == fields[k].data() + fields[k].size();
      if (error != std::errc() || !whole || !(std::abs(value) <= 1e30))
        throw ResultFileError(fmt::format("{}:{}: \"{}\" is no number.", name, number, fields[k]));
      found[k].put(line, value);
    }
  }
  return lines;
}

}  // namespace cw
