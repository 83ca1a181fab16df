#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw {

namespace {

const Stroke thin_stroke{ink, 0.7, {}};
constexpr double arrow = 8.0, slim = 2.2, past = 4.0;

/// A slim arrow head at `tip` for a line along x (dx = +-1) or y (dy = +-1), pointing that way.
void head(Canvas& canvas, Spot tip, double dx, double dy) {
  const Spot back{tip.x - arrow * dx, tip.y - arrow * dy};
  Drawn drawn{
      {{tip, {back.x - slim * dy, back.y - slim * dx}, {back.x + slim * dy, back.y + slim * dx}}},
      true,
      ink,
      {}};
  canvas.items.emplace_back(std::move(drawn));
}

/// A dimension too small for its arrows has them outside.
bool cramped(double from, double to) {
  return std::abs(to - from) < 3.0 * arrow;
}

/// Position of the text along a dimension line, and how far the line extends below it.
struct Words {
  double at = 0.0;
  Anchor anchor = Anchor::middle;
  double line_from = 0.0, line_to = 0.0;
};

/// Along an axis on which text reads towards larger values: in the middle of the span if it fits,
/// else beyond its end, else before its start, else beyond the extension lines (`crossings`) of all
/// other dimensions.
Words place_words(double from, double to, double width, const std::vector<double>& crossings) {
  constexpr double gap = 6.0;
  const double overhang = cramped(from, to) ? 2.0 * arrow : 0.0;
  const double before = from - overhang, after = to + overhang;
  if (width + 2.0 * gap <= to - from) return {0.5 * (from + to), Anchor::middle, before, after};
  const auto free = [&](double low, double high) {
    return std::none_of(crossings.begin(), crossings.end(),
                        [&](double c) { return c > low && c < high; });
  };
  const double need = width + 2.0 * gap;
  if (free(to + 0.5, after + need)) return {after + gap, Anchor::start, before, after + need};
  if (free(before - need, from - 0.5)) return {before - gap, Anchor::end, before - need, after};
  const double end = std::max(after, *std::max_element(crossings.begin(), crossings.end()));
  return {end + gap, Anchor::start, before, end + need};
}

void diameter(Canvas& canvas, const Frame& frame, const DimensionLine& d, double y,
              const std::vector<double>& crossings) {
  const Spot left = frame.spot({d.high, d.at}, -1), right = frame.spot({d.high, d.at}, 1);
  const double start = std::clamp(left.y, frame.top, frame.bottom()) - 3.0;
  for (const double x : {left.x, right.x}) canvas.line({{x, start}, {x, y - past}}, thin_stroke);
  Lettering style{12.0, Anchor::middle, ink, false, false, true};
  const std::string text = fmt::format("{} \u00d8 {}", d.name, millimetres(2.0 * d.high));
  const Words words = place_words(left.x, right.x, text_width(text, style), crossings);
  canvas.line({{words.line_from, y}, {words.line_to, y}}, thin_stroke);
  const double inwards = cramped(left.x, right.x) ? 1.0 : -1.0;
  head(canvas, {left.x, y}, inwards, 0.0);
  head(canvas, {right.x, y}, -inwards, 0.0);
  style.anchor = words.anchor;
  canvas.text({words.at, y - 4.0}, text, style);
}

void length(Canvas& canvas, const Frame& frame, const DimensionLine& d, double x,
            const std::vector<double>& crossings) {
  const Spot top = frame.spot({d.at, d.high}, 1), low = frame.spot({d.at, d.low}, 1);
  const bool top_seen = d.high <= frame.window.top, low_seen = d.low >= frame.window.bottom;
  const double from = top_seen ? top.y : frame.top, to = low_seen ? low.y : frame.bottom();
  const double inwards = cramped(from, to) ? 1.0 : -1.0;
  if (top_seen) {
    canvas.line({{top.x + 3.0, top.y}, {x + past, top.y}}, thin_stroke);
    head(canvas, {x, top.y}, 0.0, inwards);
  }
  if (low_seen) {
    canvas.line({{low.x + 3.0, low.y}, {x + past, low.y}}, thin_stroke);
    head(canvas, {x, low.y}, 0.0, -inwards);
  }
  Lettering style{12.0, Anchor::middle, ink, false, true, true};
  const std::string size = millimetres(d.high - d.low);
  const std::string text = d.name.empty() ? size : fmt::format("{} {}", d.name, size);
  const Words words =
      place_words(-to, -from, text_width(text, style), crossings);  // upright text reads upwards
  canvas.line({{x, -words.line_from}, {x, -words.line_to}}, thin_stroke);
  style.anchor = words.anchor;
  canvas.text({x - 4.0, -words.at}, text, style);
}

/// Ends of the dimensions further out than this one: their extension lines cross its text.
std::vector<double> crossings_of(const Frame& frame, const std::vector<DimensionLine>& further) {
  std::vector<double> at;
  for (const auto& d : further) {
    if (d.kind == DimensionLine::Kind::diameter) {
      for (const int side : {-1, 1}) at.push_back(frame.spot({d.high, d.at}, side).x);
    } else {
      for (const double z : {d.low, d.high}) at.push_back(-frame.spot({0.0, z}, 1).y);
    }
  }
  return at;
}

}  // namespace

void draw_dimensions(Canvas& canvas, const Frame& frame,
                     const std::vector<DimensionLine>& dimensions) {
  // The smallest is nearest, so that extension lines never cross a dimension line.
  std::vector<DimensionLine> sorted = dimensions;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const DimensionLine& a, const DimensionLine& b) {
                     return a.high - a.low < b.high - b.low;
                   });
  double y = frame.top - dimension_step, x = frame.right() + dimension_step;
  while (!sorted.empty()) {
    const DimensionLine d = sorted.front();
    sorted.erase(sorted.begin());
    std::vector<DimensionLine> further;
    std::copy_if(sorted.begin(), sorted.end(), std::back_inserter(further),
                 [&](const DimensionLine& other) { return other.kind == d.kind; });
    if (d.kind == DimensionLine::Kind::diameter) {
      diameter(canvas, frame, d, y, crossings_of(frame, further));
      y -= dimension_step;
    } else {
      length(canvas, frame, d, x, crossings_of(frame, further));
      x += dimension_step;
    }
  }
}

void draw_callouts(Canvas& canvas, const Frame& frame, std::vector<Callout> callouts) {
  constexpr double apart = 18.0, from_tick = 13.0;
  std::sort(callouts.begin(), callouts.end(),
            [](const Callout& a, const Callout& b) { return a.at.z > b.at.z; });
  const std::vector<double> ticks = tick_heights(frame);
  std::vector<double> taken;
  const auto free = [&](double y) {
    return std::all_of(ticks.begin(), ticks.end(),
                       [&](double t) { return std::abs(t - y) >= from_tick; }) &&
           std::all_of(taken.begin(), taken.end(),
                       [&](double t) { return std::abs(t - y) >= apart; });
  };
  for (const auto& callout : callouts) {
    const Spot target = frame.spot(callout.at, -1);
    double y = target.y;
    for (int shift = 0; shift < static_cast<int>(frame.height); ++shift) {  // one point at a time
      y = target.y - shift;
      if (free(y)) break;
      y = target.y + shift;
      if (free(y)) break;
    }
    taken.push_back(y);
    const double end = frame.left - scale_room;
    // Outside the field the leader is horizontal, between the numbers of the scale.
    canvas.line({{end + 4.0, y}, {frame.left + 6.0, y}, target}, {ink, 0.8, {}});
    canvas.rectangle({target.x - 1.8, target.y - 1.8}, 3.6, 3.6,
                     {{}, true, ink, Stroke{{255, 255, 255}, 0.9, {}}});
    canvas.text({end, y + 4.0}, callout.text, {12.0, Anchor::end, ink, false, false, false});
  }
}

}  // namespace cw
