#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include <fmt/format.h>

#include "cases/read/case_sections.hpp"
#include "materials/number.hpp"

namespace cw::cases {

namespace {

using enum Need;

/// An axis as in the file.
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
    Key{"key", required, keys::text<&Axis::key>, "\"coil.turns\""},
    Key{"values", optional, read_values, "[6, 7, 8, 9]"},
    Key{"from", optional, value<&Axis::from>, "\"7 mm\""},
    Key{"to", optional, value<&Axis::to>, "\"12 mm\""},
    Key{"count", optional, keys::whole<&Axis::count>, "6"},
};

std::optional<SweepRange> range_of(Reading& reading, const std::string& path, const Axis& axis) {
  const LeadingNumber from = read_leading_number(axis.from), to = read_leading_number(axis.to);
  const bool apart = from.value != to.value;
  if (from.complaint.empty() && to.complaint.empty() && from.rest == to.rest && apart)
    return SweepRange{from.value, to.value, std::string(from.rest)};
  reading.complain(path, fmt::format("found from \"{}\" to \"{}\"; allowed: two numbers{} in the "
                                     "same unit; write for example from = \"7 mm\", to = \"12 mm\"",
                                     axis.from, axis.to, apart ? "" : " apart from each other"));
  return std::nullopt;
}

/// A repeated value would repeat a design.
void check_repeats(Reading& reading, const std::string& path,
                   const std::vector<std::string>& values) {
  std::set<std::string> seen;
  for (std::size_t k = 0; k < values.size(); ++k)
    if (!seen.insert(values[k]).second)
      reading.complain(
          fmt::format("{}.{}", path, k),
          fmt::format("found \"{}\" a second time; allowed: each value once; remove it",
                      values[k]));
}

/// Evenly spaced values in the unit of the range.
std::vector<std::string> spaced(Reading& reading, const std::string& path, const SweepRange& range,
                                int count) {
  constexpr int most = 1000;
  if (count < 2 || count > most) {
    reading.complain(dotted(path, "count"),
                     fmt::format("found {}; allowed: 2 to {}; write count = 6", count, most));
    return {};
  }
  std::vector<std::string> values;
  for (int i = 0; i < count; ++i)
    values.push_back(sweep_value(range, static_cast<double>(i) / (count - 1)));
  return values;
}

void read_axis(Reading& reading, const Entry& element, Sweep& to) {
  Axis axis;
  const std::size_t before = reading.complaints.size();
  read_table<Axis>(reading, element, axis_keys, axis);
  const auto& table = element.node.table;
  const bool list = table.contains("values");
  const bool range = table.contains("from") && table.contains("to");
  if (list) {
    static constexpr std::array<std::string_view, 3> others = {"from", "to", "count"};
    forbid(reading, element, others, "values already lists the values to try");
  } else if (!range && element.node.kind == Node::Kind::table) {
    reading.complain(
        element.path,
        "found neither values nor from, to and count; write for example values = [6, 7, 8]");
  }
  if (reading.complaints.size() > before) return;
  SweepAxis& made = to.vary.emplace_back();
  made.key = axis.key;
  if (list) {
    made.values = *axis.values;
    check_repeats(reading, dotted(element.path, "values"), made.values);
    return;
  }
  made.range = range_of(reading, element.path, axis);
  if (made.range && axis.count)
    made.values = spaced(reading, element.path, *made.range, *axis.count);
}

void read_vary(Reading& reading, const Entry& entry, Sweep& to) {
  if (!is_list(reading, entry)) return;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const Entry element{dotted(entry.path, std::to_string(i)), entry.node.list[i], entry.sample};
    reading.where.at[element.path] = element.node.at;
    read_axis(reading, element, to);
  }
}

constexpr std::array<std::string_view, 2> sampling_kinds = {"latin-hypercube", "sobol"};

constexpr std::array sampling_keys = {
    Key{"kind", optional, keys::choice<&Sampling::kind, SamplingKind, sampling_kinds>,
        "\"latin-hypercube\""},
    Key{"count", required, keys::whole<&Sampling::count>, "100"},
    Key{"seed", optional, keys::whole<&Sampling::seed>, "1"},
};

constexpr std::array requirement_keys = {
    Key{"key", required, keys::text<&SweepRequirement::key>, "\"states.cold.supply.demand_A\""},
    Key{"least", optional, keys::number<&SweepRequirement::least>, "0.6"},
    Key{"most", optional, keys::number<&SweepRequirement::most>, "30"},
};

constexpr std::array optimiser_keys = {
    Key{"evaluations", optional, keys::whole<&Optimiser::evaluations>, "60"},
    Key{"starts", optional, keys::whole<&Optimiser::starts>, "1"},
};

constexpr std::array sweep_keys = {
    Key{"vary", required, read_vary, "[{ key = \"coil.turns\", values = [6, 7, 8] }]"},
    Key{"rank", optional, keys::text<&Sweep::rank>, "\"heat.time_to_target_s\""},
    Key{"against", optional, keys::text<&Sweep::against>, "\"-efficiency\""},
    Key{"sampling", optional, keys::table<&Sweep::sampling, Sampling, sampling_keys>,
        "{ kind = \"latin-hypercube\", count = 100 }"},
    Key{"require", optional, keys::tables<&Sweep::require, SweepRequirement, requirement_keys>,
        "[{ key = \"efficiency\", least = 0.6 }]"},
    Key{"optimiser", optional, keys::table<&Sweep::optimiser, Optimiser, optimiser_keys>,
        "{ evaluations = 60, starts = 2 }"},
};

void check_amount(Reading& reading, const std::string& key, int found, int most) {
  if (found < 1 || found > most)
    reading.complain(key, fmt::format("found {}; allowed: 1 to {}; write for example {}", found,
                                      most, std::min(60, most)));
}

/// Checks which keys of the sweep require another one.
void check_sweep_parts(Reading& reading, const std::string& path, const Sweep& sweep) {
  constexpr int most_samples = 100000, most_evaluations = 10000, most_starts = 20;
  if (sweep.sampling)
    check_amount(reading, path + ".sampling.count", sweep.sampling->count, most_samples);
  if (sweep.optimiser) {
    check_amount(reading, path + ".optimiser.evaluations", sweep.optimiser->evaluations,
                 most_evaluations);
    check_amount(reading, path + ".optimiser.starts", sweep.optimiser->starts, most_starts);
  }
  for (std::size_t i = 0; i < sweep.vary.size(); ++i)
    if (sweep.vary[i].range && sweep.vary[i].values.empty() && !sweep.sampling)
      reading.complain(fmt::format("{}.vary.{}", path, i),
                       "found from and to without count; write count = 6, or draw designs between "
                       "them: sampling = { kind = \"latin-hypercube\", count = 100 }");
  for (std::size_t i = 0; i < sweep.require.size(); ++i)
    if (!sweep.require[i].least && !sweep.require[i].most)
      reading.complain(fmt::format("{}.require.{}", path, i),
                       "found neither least nor most; write for example most = 30");
}

}  // namespace

std::string sweep_value(const SweepRange& range, double share) {
  const double x = range.from + (range.to - range.from) * share;
  return range.unit.empty() ? fmt::format("{:.10g}", x) : fmt::format("{:.10g} {}", x, range.unit);
}

void read_sweep(Reading& reading, const Entry& entry, Case& to) {
  Sweep sweep;
  const std::size_t before = reading.complaints.size();
  read_table<Sweep>(reading, entry, sweep_keys, sweep);
  if (reading.complaints.size() == before) check_sweep_parts(reading, entry.path, sweep);
  to.sweep = std::move(sweep);
}

}  // namespace cw::cases
