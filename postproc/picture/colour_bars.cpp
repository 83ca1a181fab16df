#include "postproc/picture/colour_bars.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "postproc/picture/colour_map.hpp"
#include "postproc/text/figures.hpp"

namespace cw {

namespace {

constexpr double bar_height = 13.0, bar_inset = 26.0, below_scale = 40.0;

/// Share of the logarithmic power range, 0 at and below its low end.
double power_share(double density, double top) {
  if (density <= 0.0 || top <= 0.0) return 0.0;
  return std::clamp(1.0 + std::log10(density / top) / power_decades, 0.0, 1.0);
}

void put(Raster& raster, int column, int row, const Colour& colour) {
  std::uint8_t* pixel = raster.pixel(column, row);
  pixel[0] = colour.red;
  pixel[1] = colour.green;
  pixel[2] = colour.blue;
  pixel[3] = 255;
}

struct Tick {
  double share;
  std::string text;
};

struct Bar {
  double left = 0.0, top = 0.0, width = 0.0;
  std::string title;
  std::vector<Tick> ticks;
};

void draw_bar(Canvas& canvas, const Bar& bar) {
  Raster strip(256, 1);
  for (int i = 0; i < 256; ++i) put(strip, i, 0, field_colour(i / 255.0));
  canvas.items.emplace_back(Pasted{{bar.left, bar.top}, bar.width, bar_height, std::move(strip)});
  canvas.rectangle({bar.left, bar.top}, bar.width, bar_height,
                   {{}, true, {}, Stroke{faint_ink, 0.8, {}}});
  for (const auto& tick : bar.ticks) {
    const double x = bar.left + tick.share * bar.width;
    canvas.line({{x, bar.top + bar_height}, {x, bar.top + bar_height + 4.0}}, {faint_ink, 0.8, {}});
    canvas.text({x, bar.top + bar_height + 16.0}, tick.text, {11.0, Anchor::middle, faint_ink});
  }
  canvas.text({bar.left + 0.5 * bar.width, bar.top + bar_height + 34.0}, bar.title,
              {12.0, Anchor::middle, ink});
}

std::vector<Tick> flux_ticks(const Ranges& ranges) {
  std::vector<Tick> ticks;
  constexpr double to_mT = 1e3;
  const double top = ranges.flux_top * to_mT;
  const double step = round_step(top, 4);
  const int steps = static_cast<int>(std::floor(top / step * (1.0 + 1e-9)));
  for (int k = 0; k <= steps; ++k) {
    const double value = k * step;
    const bool last = value > top * (1.0 - 1e-9);
    ticks.push_back({value / top, fmt::format("{}{}", last && ranges.flux_beyond ? "\u2265 " : "",
                                              figure_short(value))});
  }
  return ticks;
}

std::vector<Tick> celsius_ticks(double top) {
  std::vector<Tick> ticks;
  const double step = round_step(top, 4);
  for (int k = 0; k * step <= top * (1.0 + 1e-9); ++k)
    ticks.push_back({k * step / top, figure_short(k * step)});
  return ticks;
}

std::vector<Tick> power_ticks(const Ranges& ranges) {
  std::vector<Tick> ticks;
  constexpr double to_W_per_cm3 = 1e-6;
  for (int decade = 0; decade <= static_cast<int>(power_decades); ++decade) {
    const double value = ranges.power_top * to_W_per_cm3 * std::pow(10.0, decade - power_decades);
    ticks.push_back({decade / power_decades,
                     fmt::format("{}{}", decade == 0 ? "\u2264 " : "", figure_short(value))});
  }
  return ticks;
}

}  // namespace

Ranges ranges_of(const FieldSamples& samples) {
  // The field of a sharp conductor edge has no largest value: a few pixels must not decide the
  // scale.
  const double usual = quantile(samples.flux_rms, 0.995),
               power = quantile(samples.power_density, 0.9995);
  Ranges ranges;
  if (usual > 0.0) ranges.flux_top = round_up(usual);
  if (power > 0.0) ranges.power_top = std::pow(10.0, std::ceil(std::log10(power) - 0.05));
  const auto largest = std::max_element(samples.flux_rms.begin(), samples.flux_rms.end());
  ranges.flux_beyond = static_cast<double>(*largest) > ranges.flux_top;
  return ranges;
}

Raster coloured(const FieldSamples& samples, const Ranges& ranges) {
  Raster raster(2 * samples.columns, samples.rows);
  for (int row = 0; row < samples.rows; ++row) {
    for (int column = 0; column < samples.columns; ++column) {
      const std::size_t i = samples.index(column, row);
      const double flux =
          ranges.flux_top > 0.0 ? static_cast<double>(samples.flux_rms[i]) / ranges.flux_top : 0.0;
      constexpr Colour paper{255, 255, 255};
      const bool warm = ranges.celsius_top > 0.0 && samples.celsius[i] > 0.0F;
      const Colour left =
          warm ? field_colour(static_cast<double>(samples.celsius[i]) / ranges.celsius_top) : paper;
      put(raster, samples.columns - 1 - column, row,
          ranges.celsius_top > 0.0 ? left : field_colour(flux));
      const auto power = static_cast<double>(samples.power_density[i]);
      put(raster, samples.columns + column, row,
          power > 0.0 ? field_colour(power_share(power, ranges.power_top)) : paper);
    }
  }
  return raster;
}

void draw_colour_bars(Canvas& canvas, const Frame& frame, const Ranges& ranges) {
  const double width = 0.5 * frame.width - 2.0 * bar_inset;
  const double top = frame.bottom() + below_scale;
  if (ranges.celsius_top > 0.0) {
    draw_bar(canvas, {frame.left + bar_inset, top, width, "temperature, \u00b0C",
                      celsius_ticks(ranges.celsius_top)});
  } else if (ranges.flux_top > 0.0) {
    draw_bar(canvas,
             {frame.left + bar_inset, top, width, "flux density |B|, mT rms", flux_ticks(ranges)});
  }
  if (ranges.power_top > 0.0) {
    draw_bar(canvas, {frame.axis() + bar_inset, top, width, "power density, W/cm\u00b3",
                      power_ticks(ranges)});
  }
}

}  // namespace cw
