#include <fmt/core.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "postproc/chart/charts_of_result.hpp"

namespace cw {

namespace {

/// Whether there is a run to draw.
bool heated(const Result& result) {
  return result.heat && result.heat->lines.size() > 1;
}

double celsius(double kelvin) {
  return kelvin - zero_celsius;
}

/// A line of the chart from a number of every moment.
template <class X, class Y>
void add_line(Chart& chart, const std::string& name, const HeatResult& heat, X x, Y y) {
  ChartSeries series = line_series(chart.series.size(), name);
  for (const HeatLine& line : heat.lines) {
    series.x.push_back(x(line));
    series.y.push_back(y(line));
  }
  chart.series.push_back(std::move(series));
}

double time_of(const HeatLine& line) {
  return line.time;
}

/// Index of the body that is to reach the target; empty if that is the workpiece, or if the lines
/// do not hold the temperatures of bodies.
std::optional<std::size_t> aimed_body(const HeatResult& heat) {
  if (heat.target_of == "workpiece" || heat.target_to) return {};
  const auto told = [&](const HeatLine& l) { return l.bodies.size() == heat.bodies.size(); };
  if (!std::ranges::all_of(heat.lines, told)) return {};
  const auto body = std::ranges::find(heat.bodies, heat.target_of, &HeatedBody::name);
  if (body == heat.bodies.end()) return {};
  return static_cast<std::size_t>(body - heat.bodies.begin());
}

/// Adds the temperatures of a body other than the workpiece, and those of the workpiece for
/// comparison.
void add_body_lines(Chart& chart, const HeatResult& heat, std::size_t body) {
  const auto add = [&](const char* which, double BodyHeat::*member) {
    add_line(chart, fmt::format("{}, {}", heat.target_of, which), heat, time_of,
             [=](const HeatLine& l) { return celsius(l.bodies[body].*member); });
  };
  add("hottest", &BodyHeat::hottest);
  add("mean", &BodyHeat::mean);
  add("coldest", &BodyHeat::coldest);
  add_line(chart, "workpiece, mean", heat, time_of,
           [](const HeatLine& l) { return celsius(l.mean); });
}

void add_workpiece_lines(Chart& chart, const HeatResult& heat) {
  add_line(chart, "surface", heat, time_of, [](const HeatLine& l) { return celsius(l.surface); });
  add_line(chart, "centre", heat, time_of, [](const HeatLine& l) { return celsius(l.centre); });
  add_line(chart, "coldest", heat, time_of, [](const HeatLine& l) { return celsius(l.coldest); });
  add_line(chart, "mean", heat, time_of, [](const HeatLine& l) { return celsius(l.mean); });
  if (heat.target_depth || heat.target_to)
    add_line(chart, heat.target_depth ? target_place(heat) : "joint, coldest", heat, time_of,
             [](const HeatLine& l) { return celsius(l.at_target); });
  if (heat.lines.front().thermometer)
    add_line(chart, "thermometer shows", heat, time_of,
             [](const HeatLine& l) { return celsius(l.thermometer.value_or(zero_celsius)); });
}

}  // namespace

std::optional<Chart> heating_chart(const Result& result) {
  if (!heated(result)) return {};
  const HeatResult& heat = *result.heat;
  const std::optional<std::size_t> body = aimed_body(heat);
  Chart chart;
  chart.id = "heating";
  chart.title = fmt::format("Temperature of the {}", body ? heat.target_of : "workpiece");
  chart.note = body ? "The target is that of this body; the workpiece is shown for comparison."
                    : "Within the length to be heated; surface and centre at half its height.";
  chart.x = {"time [s]", "s", false};
  chart.y = {"temperature [degC]", "degC", false};
  if (body)
    add_body_lines(chart, heat, *body);
  else
    add_workpiece_lines(chart, heat);
  if (heat.target) chart.marks.push_back({"target", heat.target->in_celsius(), false, false});
  return chart;
}

std::optional<Chart> heating_power_chart(const Result& result) {
  if (!heated(result)) return {};
  const HeatResult& heat = *result.heat;
  Chart chart;
  chart.id = "heating-power";
  chart.title = "Power while it heats";
  chart.note =
      "Power from the supply, into the workpiece, lost in the coil, and lost by the workpiece.";
  chart.x = {"time [s]", "s", false};
  chart.y = {"power [W]", "W", false};
  add_line(chart, "total", heat, time_of, [](const HeatLine& l) { return l.total_W; });
  add_line(chart, "workpiece", heat, time_of, [](const HeatLine& l) { return l.work_W; });
  add_line(chart, "coil", heat, time_of, [](const HeatLine& l) { return l.coil_W; });
  add_line(chart, "lost by the workpiece", heat, time_of,
           [](const HeatLine& l) { return l.lost_W; });
  return chart;
}

std::optional<Chart> heating_supply_chart(const Result& result) {
  if (!heated(result) || !result.heat->lines.front().demand) return {};
  const auto surface = [](const HeatLine& l) { return celsius(l.surface); };
  Chart chart;
  chart.id = "heating-supply";
  chart.title = "Supply current while it heats";
  chart.note =
      "Current that the tank asks for without the limit, and current that the supply gives.";
  chart.x = {"temperature of the surface [degC]", "degC", false};
  chart.y = {"supply current, DC [A]", "A", false};
  add_line(chart, "asked for", *result.heat, surface,
           [](const HeatLine& l) { return l.demand.value_or(0.0); });
  add_line(chart, "given", *result.heat, surface,
           [](const HeatLine& l) { return l.supply_current.value_or(0.0); });
  if (const DcSupply* supply = supply_of(result); supply != nullptr && supply->supply_limit)
    chart.marks.push_back({fmt::format("limit {}", figure(*supply->supply_limit, "A")),
                           *supply->supply_limit, false, true});
  return chart;
}

std::optional<Chart> heating_frequency_chart(const Result& result) {
  // A fixed drive holds its frequency: there is nothing to show.
  if (!heated(result) || !result.heat->lines.front().demand) return {};
  const HeatResult& heat = *result.heat;
  Chart chart;
  chart.id = "heating-frequency";
  chart.title = "Frequency while it heats";
  chart.note =
      "The drive follows the tank; with steel the frequency changes most near the Curie point.";
  chart.x = {"temperature of the surface [degC]", "degC", false};
  chart.y = {"frequency [kHz]", "kHz", false, false};
  add_line(
      chart, "frequency", heat, [](const HeatLine& l) { return celsius(l.surface); },
      [](const HeatLine& l) { return l.frequency / 1e3; });
  return chart;
}

std::optional<Chart> heating_balance_chart(const Result& result) {
  if (!heated(result)) return {};
  const HeatResult& heat = *result.heat;
  const auto mean = [](const HeatLine& l) { return celsius(l.mean); };
  Chart chart;
  chart.id = "heating-balance";
  chart.title = "Power in against power lost";
  chart.note = "Where the lines meet, the workpiece gets no hotter.";
  chart.x = {"mean temperature of the workpiece [degC]", "degC", false};
  chart.y = {"power [W]", "W", false};
  add_line(chart, "power in", heat, mean, [](const HeatLine& l) { return l.work_W; });
  add_line(chart, "power lost", heat, mean, [](const HeatLine& l) { return l.lost_W; });
  if (heat.stall) chart.marks.push_back({"gets no hotter", heat.stall->in_celsius(), true, false});
  return chart;
}

}  // namespace cw
