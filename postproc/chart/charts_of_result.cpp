#include "postproc/chart/charts_of_result.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "materials/figures.hpp"
#include "postproc/chart/part_colours.hpp"
#include "postproc/picture/colour_map.hpp"

namespace cw {

namespace {

constexpr Colour teal{30, 138, 152};

/// "peak demand" for "peak_demand".
std::string plain_name(std::string name) {
  std::replace(name.begin(), name.end(), '_', ' ');
  return name == "past curie" ? "past Curie" : name;
}

/// A power that only some states have.
struct Share {
  std::string name;
  bool heated;  ///< by the field, on purpose or not
  std::vector<double> watts;
};

std::vector<Share> shares_of(const std::vector<StateResult>& states) {
  std::vector<Share> shares;
  const auto add = [&](const std::string& name, bool heated, auto value) {
    Share share{name, heated, {}};
    for (const StateResult& s : states) share.watts.push_back(value(s.power));
    if (std::any_of(share.watts.begin(), share.watts.end(), [](double w) { return w > 0.0; }))
      shares.push_back(std::move(share));
  };
  const auto optional = [&](const char* name, bool heated, auto member) {
    add(name, heated, [=](const PowerBalance& p) { return (p.*member).value_or(0.0); });
  };
  optional("workpiece", true, &PowerBalance::workpiece);
  std::set<std::string> bodies;
  for (const StateResult& s : states)
    for (const auto& [name, watts] : s.power.bodies) bodies.insert(name);
  for (const std::string& name : bodies)
    add(name, true, [&](const PowerBalance& p) {
      const auto found = p.bodies.find(name);
      return found == p.bodies.end() ? 0.0 : found->second;
    });
  add("coil", false, [](const PowerBalance& p) { return p.coil; });
  add("leads", false, [](const PowerBalance& p) { return p.leads; });
  optional("joints", false, &PowerBalance::joints);
  optional("capacitors", false, &PowerBalance::capacitors);
  optional("switches", false, &PowerBalance::switches);
  optional("chokes", false, &PowerBalance::chokes);
  optional("cable", false, &PowerBalance::cable);
  optional("battery", false, &PowerBalance::battery);
  return shares;
}

ChartAxis work_temperature() {
  return {"temperature of the workpiece [degC]", "degC", false};
}

std::vector<double> celsius_of_all(const std::vector<Temperature>& temperatures) {
  std::vector<double> values;
  for (const Temperature& t : temperatures) values.push_back(t.in_celsius());
  return values;
}

/// From the verdict, not from the fraction: the fraction from which a part gets `watch` differs
/// between parts.
Colour verdict_colour(Verdict verdict) {
  constexpr Colour amber{230, 159, 0};
  return verdict == Verdict::stop ? accent : verdict == Verdict::watch ? amber : teal;
}

/// Marks the target temperature.
void mark_target(const Result& result, Chart& chart) {
  if (result.heater && result.heater->heat && result.heater->heat->target)
    chart.marks.push_back({"target", result.heater->heat->target->in_celsius(), true, false});
}

}  // namespace

std::optional<Chart> limits_chart(const Result& result) {
  Chart chart;
  chart.id = "limits";
  chart.title = "Every part and its limit";
  chart.note =
      "Each part in its worst state. For start-up the limit is a minimum, and it is marked watch "
      "where the start is doubtful.";
  chart.kind = ChartKind::bars;
  chart.x = {"share of the limit [%]", "%"};
  chart.series.push_back({"share of the limit", {}, {}, teal, {}, {}, {}});
  for (const LimitResult& limit : result.limits) {
    if (!limit.fraction) continue;
    chart.categories.push_back(
        limit.at_state.empty() ? limit.part
                               : fmt::format("{} ({})", limit.part, plain_name(limit.at_state)));
    chart.series[0].y.push_back(100.0 * *limit.fraction);
    chart.series[0].own_colours.push_back(verdict_colour(limit.verdict));
    chart.series[0].remarks.emplace_back(limit.verdict == Verdict::stop    ? "stop"
                                         : limit.verdict == Verdict::watch ? "watch"
                                                                           : "");
  }
  if (chart.categories.empty()) return {};
  chart.marks = {{"limit", 100.0, true, true}};
  return chart;
}

std::optional<Chart> powers_chart(const Result& result) {
  if (result.states.empty()) return {};
  Chart chart;
  chart.id = "powers";
  chart.title = "Where the power goes, state by state";
  chart.note = "Dark: bodies heated by the field. Light: loss in coil and circuit.";
  chart.kind = ChartKind::stacked;
  chart.y = {"power [W]", "W", false};
  for (const StateResult& s : result.states) chart.categories.push_back(plain_name(s.name));
  const std::vector<Share> shares = shares_of(result.states);
  std::vector<bool> heated;
  for (const Share& share : shares) heated.push_back(share.heated);
  const std::vector<Colour> colours = part_colours(heated);
  for (std::size_t i = 0; i < shares.size(); ++i)
    chart.series.push_back({shares[i].name, {}, shares[i].watts, colours[i], {}, {}});
  if (chart.series.empty()) return {};
  return chart;
}

std::optional<Chart> demand_chart(const Result& result) {
  if (!result.demand || result.demand->temperatures.size() < 2) return {};
  Chart chart;
  chart.id = "demand";
  chart.title = "Supply current asked for while the work warms";
  chart.note =
      "Without the limit; where the curve is above the limit, the supply cannot give the current.";
  chart.x = work_temperature();
  chart.y = {"supply current, DC [A]", "A", false};
  ChartSeries series = line_series(0, "asked for");
  series.x = celsius_of_all(result.demand->temperatures);
  series.y = result.demand->currents;
  chart.series.push_back(std::move(series));
  if (const DcSupply* supply = supply_of(result); supply != nullptr && supply->supply_limit)
    chart.marks.push_back({fmt::format("limit {}", figure(*supply->supply_limit, "A")),
                           *supply->supply_limit, false, true});
  mark_target(result, chart);
  return chart;
}

std::optional<Chart> frequency_chart(const Result& result) {
  if (!result.demand || result.demand->temperatures.size() < 2) return {};
  Chart chart;
  chart.id = "frequency";
  chart.title = "Frequency while the work warms";
  chart.note = "The drive follows the tank.";
  chart.x = work_temperature();
  chart.y = {"frequency [kHz]", "kHz", false, false};
  ChartSeries series = line_series(0, "frequency");
  series.x = celsius_of_all(result.demand->temperatures);
  for (const double hertz : result.demand->frequencies) series.y.push_back(hertz / 1e3);
  chart.series.push_back(std::move(series));
  mark_target(result, chart);
  return chart;
}

std::optional<Chart> rings_chart(const Result& result) {
  if (result.states.empty() || result.states.front().coil.turns.size() < 2) return {};
  Chart chart;
  chart.id = "rings";
  chart.title = "Loss ring by ring";
  chart.note = "Ring 1 is the lowest; in a flat coil, the innermost.";
  chart.x = {.title = "ring", .unit = "", .whole = true};
  chart.y = {"loss [W]", "W", false};
  for (const StateResult& state : result.states) {
    ChartSeries series = line_series(chart.series.size(), plain_name(state.name));
    for (const TurnResult& turn : state.coil.turns) {
      series.x.push_back(static_cast<double>(series.x.size() + 1));
      series.y.push_back(turn.loss);
    }
    chart.series.push_back(std::move(series));
  }
  return chart;
}

std::vector<Chart> charts_of(const Result& result) {
  std::vector<Chart> charts;
  for (const auto& chart :
       {heating_chart(result), heating_power_chart(result), heating_supply_chart(result),
        heating_frequency_chart(result), heating_balance_chart(result), powers_chart(result),
        demand_chart(result), frequency_chart(result), limits_chart(result), tube_chart(result),
        rings_chart(result), stray_field_chart(result)})
    if (chart) charts.push_back(*chart);
  return charts;
}

}  // namespace cw
