#include "postproc/picture/heat_charts.hpp"

#include <fmt/format.h>

#include "postproc/picture/line_chart.hpp"
#include "postproc/text/figures.hpp"

namespace cw {

namespace {

double celsius(double kelvin) {
  return kelvin - zero_celsius;
}

template <class X, class Y>
ChartLine line(const std::string& name, const HeatResult& heat, X x, Y y) {
  ChartLine result{name, {}, false};
  for (const HeatLine& l : heat.lines) result.points.emplace_back(x(l), y(l));
  return result;
}

std::string verdict(const HeatResult& heat) {
  if (heat.time_to_target)
    return fmt::format("target {} \u00b0C ({}) reached after {} s",
                       figure(heat.target->in_celsius()), heat.target_at,
                       figure(*heat.time_to_target));
  if (heat.ended == "supply") return "the supply stops on the way";
  if (heat.target)
    return fmt::format("target {} \u00b0C not reached", figure(heat.target->in_celsius()));
  return "";
}

double time_of(const HeatLine& l) {
  return l.time;
}

Canvas temperature_chart(const std::string& title, const HeatResult& heat) {
  LineChart chart{
      title, verdict(heat), "time [s]", "temperature of the workpiece [\u00b0C]", {}, {}, {}, {}};
  chart.lines.push_back(
      line("surface", heat, time_of, [](const HeatLine& l) { return celsius(l.surface); }));
  chart.lines.push_back(
      line("centre", heat, time_of, [](const HeatLine& l) { return celsius(l.centre); }));
  chart.lines.push_back(
      line("mean", heat, time_of, [](const HeatLine& l) { return celsius(l.mean); }));
  chart.lines.push_back(
      line("coldest", heat, time_of, [](const HeatLine& l) { return celsius(l.coldest); }));
  if (heat.lines.front().thermometer) {
    chart.lines.push_back(line("thermometer", heat, time_of,
                               [](const HeatLine& l) { return celsius(*l.thermometer); }));
    chart.lines.back().dashed = true;
  }
  if (heat.target)
    chart.limit = ChartMark{0.0, heat.target->in_celsius(),
                            fmt::format("target {} \u00b0C", figure(heat.target->in_celsius()))};
  return draw(chart);
}

Canvas supply_chart(const std::string& title, const HeatResult& heat, std::optional<double> limit) {
  const auto surface = [](const HeatLine& l) { return celsius(l.surface); };
  LineChart chart{title,
                  "what the supply is asked for, and what it gives",
                  "surface of the workpiece [\u00b0C]",
                  "supply current [A]",
                  {},
                  {},
                  {},
                  {}};
  chart.lines.push_back(
      line("asked for", heat, surface, [](const HeatLine& l) { return *l.demand; }));
  chart.lines.push_back(
      line("given", heat, surface, [](const HeatLine& l) { return *l.supply_current; }));
  chart.lines.front().dashed = true;
  if (limit)
    chart.limit =
        ChartMark{0.0, *limit, fmt::format("limit of the supply {}", figure(*limit, "A"))};
  return draw(chart);
}

Canvas balance_chart(const std::string& title, const HeatResult& heat) {
  const auto mean = [](const HeatLine& l) { return celsius(l.mean); };
  LineChart chart{title,
                  "where both meet the heating comes to rest",
                  "mean temperature of the workpiece [\u00b0C]",
                  "power [W]",
                  {},
                  {},
                  {},
                  {}};
  chart.lines.push_back(line("power in", heat, mean, [](const HeatLine& l) { return l.work_W; }));
  chart.lines.push_back(line("power lost", heat, mean, [](const HeatLine& l) { return l.lost_W; }));
  if (heat.stall)
    chart.upright =
        ChartMark{heat.stall->in_celsius(), 0.0,
                  fmt::format("comes to rest at {} \u00b0C", figure(heat.stall->in_celsius()))};
  return draw(chart);
}

}  // namespace

std::vector<NamedChart> heat_charts(const std::string& title, const HeatResult& heat,
                                    std::optional<double> supply_limit) {
  std::vector<NamedChart> charts;
  if (heat.lines.size() < 2) return charts;
  charts.push_back({"heat-temperature", temperature_chart(title, heat)});
  if (heat.lines.front().demand)
    charts.push_back({"heat-supply", supply_chart(title, heat, supply_limit)});
  charts.push_back({"heat-balance", balance_chart(title, heat)});
  return charts;
}

}  // namespace cw
