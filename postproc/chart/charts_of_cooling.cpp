#include <algorithm>

#include "postproc/chart/charts_of_result.hpp"

namespace cw {

std::optional<Chart> tube_chart(const Result& result) {
  if (!result.cooling || !result.cooling->air || result.cooling->air->points.empty()) return {};
  const StillAirCooling& air = *result.cooling->air;
  Chart chart;
  chart.id = "tube";
  chart.title = "Temperature of the coil without water";
  chart.note = "Both from the moment of switching; cooling starts from the highest temperature.";
  chart.x = {"time [s]", "s", false};
  chart.y = {"temperature [degC]", "degC", false};
  ChartSeries on = line_series(0, "switched on"), off = line_series(1, "resting");
  for (const TubePoint& p : air.points) {
    ChartSeries& line = p.on ? on : off;
    line.x.push_back(p.time);
    line.y.push_back(p.temperature.in_celsius());
  }
  chart.series = {on, off};
  chart.marks.push_back(
      {air.limit_given ? "limit" : "soft solder softens", air.limit.in_celsius(), false, true});
  return chart;
}

std::optional<Chart> stray_field_chart(const Result& result) {
  if (!result.exposure || result.exposure->axis_rms.size() < 2) return {};
  const ExposureResult& exposure = *result.exposure;
  Chart chart;
  chart.id = "stray-field";
  chart.title = "Stray field against distance";
  chart.note =
      "From the nearest copper of the coil, its load and leads together; the local rule decides.";
  chart.x = {"distance from the coil [m]", "m", true};
  chart.y = {"flux density, rms [uT]", "uT", true};
  ChartSeries axis = line_series(0, "on the axis"), beside = line_series(1, "beside the coil");
  for (std::size_t i = 0; i < exposure.axis_rms.size(); ++i) {
    if (exposure.axis_rms[i] <= 0 || exposure.beside_rms[i] <= 0) return {};
    axis.x.push_back(exposure.distances[i]);
    beside.x.push_back(exposure.distances[i]);
    axis.y.push_back(1e6 * exposure.axis_rms[i]);
    beside.y.push_back(1e6 * exposure.beside_rms[i]);
  }
  chart.series = {axis, beside};
  // Only the strictest level for the public and the strictest at work: more lines would hide each
  // other.
  const auto& levels = exposure.levels;
  const auto work = std::find_if(levels.begin(), levels.end(), [](const ExposureLevel& l) {
    return l.name.find("occupational") != std::string::npos;
  });
  for (auto level = levels.begin(); level != levels.end(); ++level)
    if (level == levels.begin() || level == work)
      chart.marks.push_back({level->name, 1e6 * level->level, false, true});
  return chart;
}

}  // namespace cw
