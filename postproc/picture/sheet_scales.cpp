#include <algorithm>
#include <cmath>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw {

namespace {

constexpr double tick = 5.0;
const Lettering scale_lettering{11.0, Anchor::middle, faint_ink};

/// Multiples of `step` inside low..high.
std::vector<double> multiples(double low, double high, double step) {
  std::vector<double> at;
  const long last = std::lround(std::floor(high / step + 1e-9));
  for (long k = std::lround(std::ceil(low / step - 1e-9)); k <= last; ++k) {
    at.push_back(static_cast<double>(k) * step);
  }
  return at;
}

/// One step for both scales, which shows that the drawing is to scale.
double tick_step(const Frame& frame) {
  return round_step(60.0 / frame.scale, 1);
}

}  // namespace

double round_step(double span, int count) {
  const double raw = span / count;
  const double decade = std::pow(10.0, std::floor(std::log10(raw)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * decade >= raw * (1.0 - 1e-9)) return factor * decade;
  }
  return 10.0 * decade;
}

double round_up(double value) {
  const double decade = std::pow(10.0, std::floor(std::log10(value)));
  for (const double factor : {1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0}) {
    if (factor * decade >= value * (1.0 - 1e-9)) return factor * decade;
  }
  return 10.0 * decade;
}

std::vector<double> tick_heights(const Frame& frame) {
  std::vector<double> heights;
  for (const double z : multiples(frame.window.bottom, frame.window.top, tick_step(frame))) {
    heights.push_back(frame.spot({0.0, z}, 1).y);
  }
  return heights;
}

void draw_scales(Canvas& canvas, const Frame& frame) {
  const Stroke thin{faint_ink, 0.8, {}};
  const double step = tick_step(frame);
  for (const double z : multiples(frame.window.bottom, frame.window.top, step)) {
    const double y = frame.spot({0.0, z}, 1).y;
    canvas.line({{frame.left - tick, y}, {frame.left, y}}, thin);
    Lettering style = scale_lettering;
    style.anchor = Anchor::end;
    canvas.text({frame.left - tick - 4.0, y + 4.0}, millimetres(z), style);
  }
  for (const double r : multiples(-frame.window.radius, frame.window.radius, step)) {
    const double x = frame.axis() + r * frame.scale;
    canvas.line({{x, frame.bottom()}, {x, frame.bottom() + tick}}, thin);
    canvas.text({x, frame.bottom() + tick + 12.0}, millimetres(std::abs(r)), scale_lettering);
  }
  canvas.text({frame.left - tick - 4.0, frame.bottom() + tick + 12.0}, "mm",
              {11.0, Anchor::end, faint_ink});
  canvas.rectangle({frame.left, frame.top}, frame.width, frame.height, {{}, true, {}, thin});
  // Centre line of a drawing: long dash, short dash.
  const Stroke centre{ink, 0.8, {}};
  const double start = frame.top - 8.0, end = frame.bottom() + 3.0, period = 24.0;
  const auto piece = [&](double from, double to) {
    if (from < end) canvas.line({{frame.axis(), from}, {frame.axis(), std::min(to, end)}}, centre);
  };
  for (int k = 0; start + k * period < end; ++k) {
    const double y = start + k * period;
    piece(y, y + 15.0);
    piece(y + 18.5, y + 20.5);
  }
}

}  // namespace cw
