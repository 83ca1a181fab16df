#include "postproc/picture/colour_bars.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"

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

struct ColourBar {
  double left = 0.0, top = 0.0, width = 0.0;
  std::string title;
  std::vector<Tick> ticks;
  bool heat = false;          ///< in the map of temperatures
  std::vector<double> marks;  ///< shares
};

void draw_bar(Canvas& canvas, const ColourBar& bar) {
  Raster strip(256, 1);
  for (int i = 0; i < 256; ++i)
    put(strip, i, 0, bar.heat ? heat_colour(i / 255.0) : field_colour(i / 255.0));
  canvas.items.emplace_back(Pasted{{bar.left, bar.top}, bar.width, bar_height, std::move(strip)});
  canvas.rectangle({bar.left, bar.top}, bar.width, bar_height,
                   {{}, true, {}, Stroke{faint_ink, 0.8, {}}});
  for (const double share : bar.marks) {
    const double x = bar.left + share * bar.width;
    for (const Stroke& stroke : {Stroke{{255, 255, 255}, 2.8, {}}, Stroke{ink, 1.2, {}}})
      canvas.line({{x, bar.top - 3.0}, {x, bar.top + bar_height}}, stroke);
  }
  for (const auto& tick : bar.ticks) {
    const double x = bar.left + tick.share * bar.width;
    canvas.line({{x, bar.top + bar_height}, {x, bar.top + bar_height + 4.0}}, {faint_ink, 0.8, {}});
    canvas.text({x, bar.top + bar_height + 16.0}, tick.text, {11.0, Anchor::middle, faint_ink});
  }
  canvas.text({bar.left + 0.5 * bar.width, bar.top + bar_height + 34.0}, bar.title,
              {12.0, Anchor::middle, ink});
}

/// Name and unit of a quantity.
struct Naming {
  const char* title;
  double factor;  ///< from SI to the unit of the title
};

Naming naming_of(Shown shown) {
  switch (shown) {
    case Shown::flux_density:
      return {"flux density |B|, mT rms", 1e3};
    case Shown::power_density:
      return {"power density, W/cm\u00b3", 1e-6};
    case Shown::temperature:
      return {"temperature, \u00b0C", 1.0};
    case Shown::current_density:
      break;
  }
  return {"current density, A/mm\u00b2 rms", 1e-6};
}

std::vector<Tick> linear_ticks(const HalfScale& scale, double factor) {
  std::vector<Tick> ticks;
  const double top = scale.top * factor;
  const double step = round_step(top, 4);
  const int steps = static_cast<int>(std::floor(top / step * (1.0 + 1e-9)));
  for (int k = 0; k <= steps; ++k) {
    const double value = k * step;
    const bool last = value > top * (1.0 - 1e-9);
    ticks.push_back({value / top, fmt::format("{}{}", last && scale.beyond ? "\u2265 " : "",
                                              figure_short(value))});
  }
  return ticks;
}

std::vector<Tick> decade_ticks(const HalfScale& scale, double factor) {
  std::vector<Tick> ticks;
  for (int decade = 0; decade <= static_cast<int>(power_decades); ++decade) {
    const double value = scale.top * factor * std::pow(10.0, decade - power_decades);
    ticks.push_back({decade / power_decades,
                     fmt::format("{}{}", decade == 0 ? "\u2264 " : "", figure_short(value))});
  }
  return ticks;
}

/// Few colours make small files; steps of 0.006 in lightness are too small to see.
Colour stepped(double share, Colour (*map)(double)) {
  constexpr double steps = 120.0;
  return map(std::round(steps * std::clamp(share, 0.0, 1.0)) / steps);
}

Colour colour_of(const HalfScale& scale, double value) {
  constexpr Colour paper{255, 255, 255};
  if (scale.shown == Shown::flux_density)
    return stepped(scale.top > 0.0 ? value / scale.top : 0.0, field_colour);
  if (value <= 0.0) return paper;
  if (scale.shown == Shown::temperature) return stepped(value / scale.top, heat_colour);
  return stepped(
      scale.shown == Shown::power_density ? power_share(value, scale.top) : value / scale.top,
      field_colour);
}

}  // namespace

const std::vector<float>& values_of(const FieldSamples& samples, Shown shown) {
  switch (shown) {
    case Shown::flux_density:
      return samples.flux_rms;
    case Shown::power_density:
      return samples.power_density;
    case Shown::temperature:
      return samples.celsius;
    case Shown::current_density:
      break;
  }
  return samples.current_rms;
}

HalfScale scale_of(const FieldSamples& samples, Shown shown) {
  // The field at a sharp edge of a conductor has no maximum: a few pixels must not determine the
  // scale.
  const std::vector<float>& values = values_of(samples, shown);
  assert(values.size() == samples.region.size());
  HalfScale scale{shown, 0.0, false};
  const double usual = quantile(values, shown == Shown::power_density ? 0.9995 : 0.995);
  if (usual <= 0.0) return scale;
  scale.top = shown == Shown::power_density ? std::pow(10.0, std::ceil(std::log10(usual) - 0.05))
                                            : round_up(usual);
  scale.beyond = static_cast<double>(*std::max_element(values.begin(), values.end())) > scale.top;
  return scale;
}

Raster coloured_half(const FieldSamples& samples, const HalfScale& scale) {
  Raster raster(samples.columns, samples.rows);
  const auto& values = values_of(samples, scale.shown);
  for (int row = 0; row < samples.rows; ++row)
    for (int column = 0; column < samples.columns; ++column)
      put(raster, column, row,
          colour_of(scale, static_cast<double>(values[samples.index(column, row)])));
  return raster;
}

Raster coloured(const FieldSamples& samples, const Ranges& ranges) {
  Raster raster(2 * samples.columns, samples.rows);
  const auto& left = values_of(samples, ranges.left.shown);
  const auto& right = values_of(samples, ranges.right.shown);
  for (int row = 0; row < samples.rows; ++row) {
    for (int column = 0; column < samples.columns; ++column) {
      const std::size_t i = samples.index(column, row);
      put(raster, samples.columns - 1 - column, row,
          colour_of(ranges.left, static_cast<double>(left[i])));
      put(raster, samples.columns + column, row,
          colour_of(ranges.right, static_cast<double>(right[i])));
    }
  }
  return raster;
}

void draw_colour_bars(Canvas& canvas, const Frame& frame, const Ranges& ranges) {
  const double width = 0.5 * frame.width - 2.0 * bar_inset;
  const double top = frame.bottom() + below_scale;
  const auto draw = [&](const HalfScale& scale, double left) {
    if (scale.top <= 0.0) return;
    const Naming naming = naming_of(scale.shown);
    std::vector<double> marks;
    for (const double value : scale.marks)
      if (value > 0.0 && value < scale.top) marks.push_back(value / scale.top);
    draw_bar(canvas, {left, top, width, naming.title,
                      scale.shown == Shown::power_density ? decade_ticks(scale, naming.factor)
                                                          : linear_ticks(scale, naming.factor),
                      scale.shown == Shown::temperature, std::move(marks)});
  };
  draw(ranges.left, frame.left + bar_inset);
  draw(ranges.right, frame.axis() + bar_inset);
}

}  // namespace cw
