#include "postproc/picture/chart_axes.hpp"

#include <algorithm>
#include <cmath>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw {

namespace {

constexpr Colour grid_colour{222, 225, 229};
constexpr int marks = 7;

void draw_y_marks(Canvas& canvas, const ChartAxes& a) {
  const Stroke faint{grid_colour, 0.8, {}};
  const double y_step = round_step(a.y_high - a.y_low, marks);
  for (double y = std::ceil(a.y_low / y_step) * y_step; y <= a.y_high; y += y_step) {
    const Spot at = a.spot(a.x_low, y);
    canvas.line({at, {a.left + a.width, at.y}}, faint);
    canvas.text({at.x - 7.0, at.y + 4.0}, figure_short(std::abs(y) < 1e-9 * y_step ? 0.0 : y),
                {11.0, Anchor::end, faint_ink});
  }
}

}  // namespace

std::pair<double, double> padded(double low, double high) {
  const double room = high > low ? 0.06 * (high - low) : std::max(1e-12, 0.1 * std::abs(high));
  return {low - room, high + room};
}

void draw_axes(Canvas& canvas, const ChartAxes& a, const std::string& x_label,
               const std::string& y_label) {
  const Stroke faint{grid_colour, 0.8, {}}, thin{faint_ink, 0.8, {}};
  const double x_step = round_step(a.x_high - a.x_low, marks);
  for (double x = std::ceil(a.x_low / x_step) * x_step; x <= a.x_high; x += x_step) {
    const Spot at = a.spot(x, a.y_low);
    canvas.line({{at.x, a.top}, at}, faint);
    canvas.text({at.x, at.y + 17.0}, figure_short(std::abs(x) < 1e-9 * x_step ? 0.0 : x),
                {11.0, Anchor::middle, faint_ink});
  }
  if (!y_label.empty()) draw_y_marks(canvas, a);
  canvas.rectangle({a.left, a.top}, a.width, a.height, {{}, true, {}, thin});
  canvas.text({a.left + a.width / 2, a.top + a.height + 36.0}, x_label,
              {12.0, Anchor::middle, ink});
  if (!y_label.empty())
    canvas.text({18.0, a.top + a.height / 2}, y_label, {12.0, Anchor::middle, ink, false, true});
}

void draw_heading(Canvas& canvas, const std::string& title, const std::string& below) {
  const auto fitted = [&](Lettering style, const std::string& text) {
    const double room = canvas.width - 40.0, needed = text_width(text, style);
    if (needed > room) style.size = std::max(8.0, std::floor(style.size * room / needed));
    return style;
  };
  const Lettering large{16.0, Anchor::start, ink, true}, small{12.0, Anchor::start, faint_ink};
  canvas.text({20.0, 30.0}, title, fitted(large, title));
  canvas.text({20.0, 50.0}, below, fitted(small, below));
}

}  // namespace cw
