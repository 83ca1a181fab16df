#include "postproc/text/what_is_seen.hpp"

#include <fmt/format.h>

#include <cmath>

#include "materials/figures.hpp"

namespace cw {

namespace {

/// Share of the energy below which the workpiece barely warms; common practice, no source.
constexpr double poor_share = 0.35;
/// Error of a thermometer that is worth mentioning [K].
constexpr double worth_telling = 2.0;
/// Ratio of emissivity to the thermometer's setting below which a surface counts as a mirror.
constexpr double bright = 0.5;

std::string kelvins(double rise) {
  return figure(rise) + " K";
}

}  // namespace

std::string what_is_seen(const HeatResult& heat) {
  if (!heat.thermometer || heat.lines.size() < 2) return "";
  const ThermometerResult& t = *heat.thermometer;
  const double start = heat.lines.front().surface;
  const double rise = t.surface.kelvin - start, seen = t.shown.kelvin - start;
  const auto work = heat.spent.find("workpiece");
  const double share =
      work != heat.spent.end() && heat.energy > 0 ? work->second / heat.energy : 1.0;
  std::string text = fmt::format(
      "After {} the surface is {} warmer than at the start: {}{} of the energy entered "
      "the workpiece{}.",
      figure(heat.lines.back().time, "s"), kelvins(rise), share < poor_share ? "only " : "",
      percent(share),
      share < poor_share ? "; the rest was lost in coil and drive. This is an effect of the metal"
                         : "");
  if (std::abs(rise - seen) < worth_telling) return text;
  text += fmt::format(
      " An infrared thermometer set to {} shows {} of these {}, because {}. This is an effect of "
      "the thermometer.",
      figure_short(t.setting), kelvins(seen), kelvins(rise),
      fmt::format("a surface of emissivity {} emits {}", figure_short(t.emissivity),
                  t.emissivity < bright * t.setting ? "little and reflects the room"
                  : t.emissivity < t.setting        ? "less than it expects"
                                                    : "more than it expects"));
  return text;
}

}  // namespace cw
