#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "cases/read/case_sections.hpp"
#include "materials/number.hpp"

namespace cw::cases {

namespace {

using enum Need;

constexpr std::array<std::string_view, 2> axis_stands = {"vertical", "horizontal"};
constexpr std::array<std::string_view, 4> target_places = {"surface", "centre", "mean", "coldest"};

void read_heated(Reading& reading, const Entry& entry, Heat& to) {
  const auto pair = read_two_lengths(reading, entry);
  if (!pair) return;
  if (pair->first >= pair->second) {
    reading.complain(entry.path,
                     "found a stretch that does not rise; allowed: the lower end first; write "
                     "[\"-20 mm\", \"20 mm\"]");
  }
  to.heated = Stretch{pair->first, pair->second};
}

constexpr std::array heat_keys = {
    Key<Heat>{"target", optional, keys::quantity<&Heat::target, Dimension::temperature>,
              "\"820 degC\""},
    Key<Heat>{"target_at", optional, keys::choice<&Heat::target_at, TargetAt, target_places>,
              "\"coldest\""},
    Key<Heat>{"heated", optional, read_heated, "[\"-20 mm\", \"20 mm\"]"},
    Key<Heat>{"until", optional, keys::quantity<&Heat::until, Dimension::time>, "\"180 s\""},
    Key<Heat>{"surroundings", optional, keys::quantity<&Heat::surroundings, Dimension::temperature>,
              "\"20 degC\""},
    Key<Heat>{"emissivity", optional, keys::number<&Heat::emissivity>, "0.8"},
    Key<Heat>{"axis", optional, keys::choice<&Heat::axis, AxisStands, axis_stands>, "\"vertical\""},
    Key<Heat>{"thermometer", optional, keys::number<&Heat::thermometer>, "0.95"},
    Key<Heat>{"harden", optional, keys::quantity<&Heat::harden, Dimension::temperature>,
              "\"780 degC\""},
};

/// An axis as written.
struct Axis {
  std::string key;
  std::optional<std::vector<std::string>> values;
  std::string from, to;
  std::optional<int> count;
};

/// A text or a number, as text.
std::optional<std::string> as_text(Reading& reading, const Entry& entry) {
  const Node& node = entry.node;
  const bool number = node.kind == Node::Kind::whole || node.kind == Node::Kind::number;
  if (number && std::isfinite(node.number)) return fmt::format("{}", node.number);
  if (node.kind == Node::Kind::text && !node.text.empty()) return node.text;
  reading.complain(
      entry.path,
      fmt::format("found {}; allowed: a text or a number, as the key takes it; write {}",
                  describe(node), entry.sample));
  return std::nullopt;
}

template <auto M>
void value(Reading& reading, const Entry& entry, Axis& to) {
  if (auto text = as_text(reading, entry)) to.*M = std::move(*text);
}

void read_values(Reading& reading, const Entry& entry, Axis& to) {
  if (!is_list(reading, entry)) return;
  std::vector<std::string> values;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const std::string path = dotted(entry.path, std::to_string(i));
    reading.where.at[path] = entry.node.list[i].at;
    if (auto text = as_text(reading, {path, entry.node.list[i], "6"}))
      values.push_back(std::move(*text));
  }
  if (entry.node.list.empty())
    reading.complain(entry.path, "found an empty list; write for example [6, 7, 8]");
  to.values = std::move(values);
}

constexpr std::array axis_keys = {
    Key<Axis>{"key", required, keys::text<&Axis::key>, "\"coil.turns\""},
    Key<Axis>{"values", optional, read_values, "[6, 7, 8, 9]"},
    Key<Axis>{"from", optional, value<&Axis::from>, "\"7 mm\""},
    Key<Axis>{"to", optional, value<&Axis::to>, "\"12 mm\""},
    Key<Axis>{"count", optional, keys::whole<&Axis::count>, "6"},
};

/// Evenly spaced values in the unit of `from` and `to`.
std::vector<std::string> spaced(Reading& reading, const std::string& path, const Axis& axis) {
  constexpr int most = 1000;
  const LeadingNumber from = read_leading_number(axis.from), to = read_leading_number(axis.to);
  if (!from.complaint.empty() || !to.complaint.empty() || from.rest != to.rest) {
    reading.complain(
        path,
        fmt::format("found from \"{}\" to \"{}\"; allowed: two numbers in the same unit; write "
                    "for example from = \"7 mm\", to = \"12 mm\"",
                    axis.from, axis.to));
    return {};
  }
  if (*axis.count < 2 || *axis.count > most) {
    reading.complain(dotted(path, "count"),
                     fmt::format("found {}; allowed: 2 to {}; write count = 6", *axis.count, most));
    return {};
  }
  std::vector<std::string> values;
  for (int i = 0; i < *axis.count; ++i) {
    const double x = from.value + (to.value - from.value) * i / (*axis.count - 1);
    values.push_back(from.rest.empty() ? fmt::format("{:.10g}", x)
                                       : fmt::format("{:.10g} {}", x, from.rest));
  }
  return values;
}

void read_vary(Reading& reading, const Entry& entry, Sweep& to) {
  if (!is_list(reading, entry)) return;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const Entry element{dotted(entry.path, std::to_string(i)), entry.node.list[i], entry.sample};
    reading.where.at[element.path] = element.node.at;
    Axis axis;
    const std::size_t before = reading.complaints.size();
    read_table<Axis>(reading, element, axis_keys, axis);
    const auto& table = element.node.table;
    const bool list = table.contains("values");
    const bool range = table.contains("from") && table.contains("to") && table.contains("count");
    if (list) {
      static constexpr std::array<std::string_view, 3> others = {"from", "to", "count"};
      forbid(reading, element, others, "values already lists what to try");
    } else if (!range && element.node.kind == Node::Kind::table) {
      reading.complain(
          element.path,
          "found neither values nor from, to and count; write for example values = [6, 7, 8]");
    }
    if (reading.complaints.size() > before) continue;
    to.vary.push_back({axis.key, list ? *axis.values : spaced(reading, element.path, axis)});
  }
}

constexpr std::array sweep_keys = {
    Key<Sweep>{"vary", required, read_vary, "[{ key = \"coil.turns\", values = [6, 7, 8] }]"},
    Key<Sweep>{"rank", optional, keys::text<&Sweep::rank>, "\"heat.time_to_target_s\""},
};

}  // namespace

void read_heat(Reading& reading, const Entry& entry, Case& to) {
  Heat heat;
  read_table<Heat>(reading, entry, heat_keys, heat);
  const auto& table = entry.node.table;
  if (entry.node.kind == Node::Kind::table && !table.contains("target") &&
      !table.contains("until")) {
    reading.complain(entry.path,
                     "found neither target nor until: the run has no end; write for example "
                     "target = \"820 degC\"");
  }
  to.heat = heat;
}

void read_sweep(Reading& reading, const Entry& entry, Case& to) {
  Sweep sweep;
  read_table<Sweep>(reading, entry, sweep_keys, sweep);
  to.sweep = std::move(sweep);
}

}  // namespace cw::cases
