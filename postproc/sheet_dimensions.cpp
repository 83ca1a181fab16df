#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "postproc/colour_map.hpp"
#include "postproc/figures.hpp"
#include "postproc/sheet.hpp"

namespace cw {

namespace {

const Stroke thin{ink, 0.7, {}};
constexpr double arrow = 8.0, slim = 2.2, past = 4.0;

/// A slim arrow head at `tip` for a line along x (dx = +-1) or y (dy = +-1), pointing that way.
void head(Canvas& canvas, Spot tip, double dx, double dy) {
  const Spot back{tip.x - arrow * dx, tip.y - arrow * dy};
  Drawn drawn{{{tip, {back.x - slim * dy, back.y - slim * dx}, {back.x + slim * dy, back.y + slim * dx}}}, true, ink, {}};
  canvas.items.emplace_back(std::move(drawn));
}

/// A size too small for its own arrows gets them from outside.
bool cramped(double from, double to) {
  return std::abs(to - from) < 3.0 * arrow;
}

void diameter(Canvas& canvas, const Frame& frame, const Dimension& d, double y) {
  const Spot left = frame.spot({d.high, d.at}, -1), right = frame.spot({d.high, d.at}, 1);
  const double start = std::clamp(left.y, frame.top, frame.bottom()) - 3.0;
  for (const double x : {left.x, right.x}) canvas.line({{x, start}, {x, y - past}}, thin);
  const bool outside = cramped(left.x, right.x);
  const double overhang = outside ? 2.0 * arrow : 0.0;
  canvas.line({{left.x - overhang, y}, {right.x + overhang, y}}, thin);
  head(canvas, {left.x, y}, outside ? 1.0 : -1.0, 0.0);
  head(canvas, {right.x, y}, outside ? -1.0 : 1.0, 0.0);
  canvas.text({0.5 * (left.x + right.x), y - 4.0}, fmt::format("{} \u00d8 {}", d.name, millimetres(2.0 * d.high)),
              {12.0, Anchor::middle, ink, false, false, true});
}

void length(Canvas& canvas, const Frame& frame, const Dimension& d, double x) {
  const Spot top = frame.spot({d.at, d.high}, 1), low = frame.spot({d.at, d.low}, 1);
  const bool top_seen = d.high <= frame.window.top, low_seen = d.low >= frame.window.bottom;
  const double from = top_seen ? top.y : frame.top, to = low_seen ? low.y : frame.bottom();
  const bool outside = cramped(from, to);
  if (top_seen) {
    canvas.line({{top.x + 3.0, top.y}, {x + past, top.y}}, thin);
    head(canvas, {x, top.y}, 0.0, outside ? 1.0 : -1.0);
  }
  if (low_seen) {
    canvas.line({{low.x + 3.0, low.y}, {x + past, low.y}}, thin);
    head(canvas, {x, low.y}, 0.0, outside ? -1.0 : 1.0);
  }
  const double overhang = outside ? 2.0 * arrow : 0.0;
  canvas.line({{x, from - overhang}, {x, to + overhang}}, thin);
  canvas.text({x - 4.0, 0.5 * (from + to)}, fmt::format("{} {}", d.name, millimetres(d.high - d.low)),
              {12.0, Anchor::middle, ink, false, true, true});
}

}  // namespace

void draw_dimensions(Canvas& canvas, const Frame& frame, const std::vector<Dimension>& dimensions) {
  // The smallest lies nearest, so that extension lines never cross a dimension line.
  std::vector<Dimension> sorted = dimensions;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Dimension& a, const Dimension& b) { return a.high - a.low < b.high - b.low; });
  double y = frame.top - dimension_step, x = frame.right() + dimension_step;
  for (const auto& d : sorted) {
    if (d.kind == Dimension::Kind::diameter) {
      diameter(canvas, frame, d, y);
      y -= dimension_step;
    } else {
      length(canvas, frame, d, x);
      x += dimension_step;
    }
  }
}

void draw_callouts(Canvas& canvas, const Frame& frame, std::vector<Callout> callouts) {
  constexpr double apart = 18.0, from_tick = 13.0, search = 1.0;
  std::sort(callouts.begin(), callouts.end(), [](const Callout& a, const Callout& b) { return a.at.z > b.at.z; });
  const std::vector<double> ticks = tick_heights(frame);
  std::vector<double> taken;
  const auto free = [&](double y) {
    return std::all_of(ticks.begin(), ticks.end(), [&](double t) { return std::abs(t - y) >= from_tick; }) &&
           std::all_of(taken.begin(), taken.end(), [&](double t) { return std::abs(t - y) >= apart; });
  };
  for (const auto& callout : callouts) {
    const Spot target = frame.spot(callout.at, -1);
    double y = target.y;
    for (double shift = 0.0; shift < frame.height; shift += search) {
      y = target.y - shift;
      if (free(y)) break;
      y = target.y + shift;
      if (free(y)) break;
    }
    taken.push_back(y);
    const double end = frame.left - scale_room;
    // Outside the field the leader runs level between the numbers of the scale.
    canvas.line({{end + 4.0, y}, {frame.left + 6.0, y}, target}, {ink, 0.8, {}});
    canvas.rectangle({target.x - 1.8, target.y - 1.8}, 3.6, 3.6, {{}, true, ink, {}});
    canvas.text({end, y + 4.0}, callout.text, {12.0, Anchor::end, ink, false, false, false});
  }
}

}  // namespace cw
