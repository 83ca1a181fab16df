#include "postproc/picture/coil_drawing.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>
#include <utility>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/outlines.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw {

namespace {

constexpr double coil_widest = 430.0, coil_highest = 460.0;
const Stroke outline_stroke{ink, 1.2, {}}, hatch{ink, 0.5, {}};

/// The box of all turns [m].
struct Extent {
  double inside = 1e300, outside = 0.0, low = 1e300, high = -1e300;
};

Extent extent_of(const Result& result) {
  const Conductor& c = result.heater->coil.conductor;
  const Coil& coil = result.heater->coil;
  const auto count = static_cast<double>(result.states.front().coil.turns.size());
  // The spiral of a flat coil extends half a pitch to both sides of the ring that represents a
  // turn.
  const double sweep = coil.shape == CoilShape::flat ? coil.turns * coil.pitch / count : 0.0;
  const double radial = c.radial_size() + sweep, axial = c.axial_size();
  Extent e;
  for (const TurnResult& turn : result.states.front().coil.turns) {
    e.inside = std::min(e.inside, turn.r - radial / 2);
    e.outside = std::max(e.outside, turn.r + radial / 2);
    e.low = std::min(e.low, turn.z - axial / 2);
    e.high = std::max(e.high, turn.z + axial / 2);
  }
  return e;
}

/// Extends the window to a body; for a long one, to its part near the coil.
void include(Window& window, const Outline& outline, const Extent& coil) {
  const double near = 0.6 * std::max(coil.high - coil.low, 2.0 * coil.outside);
  const OutlineExtent body = extent_of(outline);
  window.bottom = std::min(window.bottom, std::max(body.low, coil.low - near));
  window.top = std::max(window.top, std::min(body.high, coil.high + near));
  window.radius = std::max(window.radius, 1.15 * body.outer);
}

/// The label of a body in the margin.
std::string label_of(const Body& body) {
  return body.material.name.empty() ? body.name
                                    : fmt::format("{}, {}", body.name, body.material.name);
}

/// The coil with a margin, and the parts of workpiece and bodies near it.
Frame frame_of(const Result& result, const Extent& coil, double top) {
  Window window{1.15 * coil.outside, coil.low, coil.high};
  double names = 0.0;
  if (result.heater->workpiece) include(window, result.heater->workpiece->outline, coil);
  for (const Body& body : result.heater->bodies) {
    if (body.outline.profile.empty()) continue;
    include(window, body.outline, coil);
    names = std::max(names, text_width(label_of(body), {}));
  }
  const double margin = 0.06 * (window.top - window.bottom + window.radius);
  window.bottom -= margin;
  window.top += margin;
  Frame frame;
  frame.window = window;
  frame.scale =
      std::min(coil_widest / (2.0 * window.radius), coil_highest / (window.top - window.bottom));
  frame.window.radius = std::max(window.radius, 0.5 * 240.0 / frame.scale);
  frame.left = names > 0.0 ? names + 24.0 + scale_room : 64.0;
  frame.top = top;
  frame.width = 2.0 * frame.window.radius * frame.scale;
  frame.height = (window.top - window.bottom) * frame.scale;
  return frame;
}

Line circle(const Frame& frame, Point at, int side, double radius) {
  constexpr int corners = 48;
  Line line;
  for (int k = 0; k < corners; ++k) {
    const double angle = 2.0 * std::numbers::pi * k / corners;
    line.push_back(
        frame.spot({at.r + radius * std::cos(angle), at.z + radius * std::sin(angle)}, side));
  }
  return line;
}

Line loop(const Frame& frame, const std::vector<Point>& corners, int side) {
  Line line;
  for (const Point p : corners) line.push_back(frame.spot(p, side));
  return line;
}

/// Outside and hollow of a conductor's section.
std::vector<Line> edges_of(const Disc& disc, const Frame& frame, int side) {
  std::vector<Line> edges{circle(frame, disc.centre, side, disc.radius)};
  if (disc.bore > 0.0) edges.push_back(circle(frame, disc.centre, side, disc.bore));
  return edges;
}

std::vector<Line> edges_of(const Polygon& polygon, const Frame& frame, int side) {
  std::vector<Line> edges{loop(frame, polygon.outline, side)};
  for (const auto& hole : polygon.holes) edges.push_back(loop(frame, hole, side));
  return edges;
}

void draw_turns(Canvas& canvas, const Frame& frame, const Result& result) {
  const Conductor& c = result.heater->coil.conductor;
  for (const TurnResult& turn : result.states.front().coil.turns) {
    for (const int side : {-1, 1}) {
      const std::vector<Line> edges =
          std::visit([&](const auto& shape) { return edges_of(shape, frame, side); },
                     c.shape({turn.r, turn.z}));
      canvas.items.emplace_back(Drawn{hatching(edges, 3.5), false, {}, hatch});
      canvas.items.emplace_back(Drawn{edges, true, {}, outline_stroke});
    }
  }
}

/// Heights between which a body is drawn: its ends, or breaks inside the frame.
struct Drawable {
  double low, high;
  bool broken_below, broken_above;
};

Drawable drawable(const Frame& frame, const OutlineExtent& body) {
  const double room = 12.0 / frame.scale;
  Drawable d{body.low, body.high, body.low<frame.window.bottom, body.high> frame.window.top};
  if (d.broken_below) d.low = frame.window.bottom + room;
  if (d.broken_above) d.high = frame.window.top - room;
  return d;
}

/// The symbol for a body that continues: a thin line across with a zigzag, as ISO 128-2 draws long
/// breaks (from memory).
void draw_break(Canvas& canvas, const Frame& frame, double radius, double z) {
  const Spot left = frame.spot({radius, z}, -1), right = frame.spot({radius, z}, 1);
  constexpr double past = 6.0, wide = 3.0, tall = 6.0;
  const double middle = 0.5 * (frame.axis() + right.x), y = left.y;
  canvas.line({{left.x - past, y},
               {middle - wide, y},
               {middle - 0.5 * wide, y - tall},
               {middle + 0.5 * wide, y + tall},
               {middle + wide, y},
               {right.x + past, y}},
              {ink, 0.8, {}});
}

/// The outline between two heights as pieces on one side, without the axis.
std::vector<Line> edges_between(const Frame& frame, const Outline& outline, const Drawable& seen,
                                int side) {
  std::vector<Line> edges;
  const auto& corners = outline.profile;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    Point a = corners[i], b = corners[(i + 1) % corners.size()];
    if (a.r <= 0.0 && b.r <= 0.0) continue;
    if (std::max(a.z, b.z) < seen.low || std::min(a.z, b.z) > seen.high) continue;
    const auto cut = [&](Point p, Point q) {
      const double z = std::clamp(p.z, seen.low, seen.high);
      return z == p.z ? p : Point{p.r + (z - p.z) / (q.z - p.z) * (q.r - p.r), z};
    };
    edges.push_back({frame.spot(cut(a, b), side), frame.spot(cut(b, a), side)});
  }
  return edges;
}

void draw_outline(Canvas& canvas, const Frame& frame, const Outline& body, const Stroke& stroke) {
  const OutlineExtent extent = extent_of(body);
  const Drawable seen = drawable(frame, extent);
  Drawn drawn{{}, false, {}, stroke};
  for (const int side : {-1, 1})
    for (Line& edge : edges_between(frame, body, seen, side))
      drawn.lines.push_back(std::move(edge));
  canvas.items.emplace_back(std::move(drawn));
  if (seen.broken_above) draw_break(canvas, frame, extent.outer, seen.high);
  if (seen.broken_below) draw_break(canvas, frame, extent.outer, seen.low);
}

/// Draws sleeves, cups and charges: thin outlines, labels in the margin, wide hatching on the left.
void draw_other_bodies(Canvas& canvas, const Frame& frame, const std::vector<Body>& bodies) {
  std::vector<Callout> names;
  for (const Body& body : bodies) {
    const auto& corners = body.outline.profile;
    if (corners.empty()) continue;
    const Drawable seen = drawable(frame, extent_of(body.outline));
    Line closed;
    for (const Point p : corners)
      closed.push_back(frame.spot({p.r, std::clamp(p.z, seen.low, seen.high)}, -1));
    canvas.items.emplace_back(Drawn{hatching({closed}, 9.0), false, {}, hatch});
    draw_outline(canvas, frame, body.outline, {ink, 0.8, {}});
    // The label points to the upper end, a little inside the body.
    const OutlineExtent extent = extent_of(body.outline);
    const double inwards = std::min(3.0 / frame.scale, 0.4 * (extent.outer - extent.inner));
    names.push_back(
        {label_of(body), {extent.outer - inwards, seen.high - 0.06 * (seen.high - seen.low)}});
  }
  draw_callouts(canvas, frame, std::move(names));
}

std::vector<DimensionLine> dimensions_of(const Result& result, const Extent& coil) {
  using Kind = DimensionLine::Kind;
  std::vector<DimensionLine> sizes{{Kind::diameter, "bore", 0.0, coil.inside, coil.high},
                                   {Kind::diameter, "outside", 0.0, coil.outside, coil.high},
                                   {Kind::length, "coil", coil.low, coil.high, coil.outside}};
  const auto& turns = result.states.front().coil.turns;
  if (turns.size() > 1 && std::abs(turns[1].z - turns[0].z) > 1e-6) {
    const auto& last = turns.back();
    const auto& before = turns[turns.size() - 2];
    sizes.push_back(
        {Kind::length, "", std::min(before.z, last.z), std::max(before.z, last.z), coil.outside});
  }
  if (result.heater->workpiece) {
    const OutlineExtent work = extent_of(result.heater->workpiece->outline);
    sizes.push_back({Kind::diameter, "work", 0.0, work.outer, work.high});
    sizes.push_back({Kind::length, "work", work.low, work.high, work.outer});
  }
  return sizes;
}

std::ptrdiff_t lengths_in(const std::vector<DimensionLine>& sizes) {
  return std::ranges::count(sizes, DimensionLine::Kind::length, &DimensionLine::kind);
}

}  // namespace

Frame coil_frame(const Result& result) {
  const Extent coil = extent_of(result);
  const std::vector<DimensionLine> sizes = dimensions_of(result, coil);
  const auto diameters = static_cast<double>(std::ssize(sizes) - lengths_in(sizes));
  return frame_of(result, coil, 36.0 + dimension_step * diameters);
}

Canvas coil_drawing(const Result& result) {
  assert(result.heater && !result.states.empty());
  const std::vector<DimensionLine> sizes = dimensions_of(result, extent_of(result));
  const Frame frame = coil_frame(result);
  Canvas canvas;
  canvas.width = frame.right() + 40.0 + dimension_step * static_cast<double>(lengths_in(sizes));
  canvas.height = frame.bottom() + 52.0;
  draw_turns(canvas, frame, result);
  if (result.heater->workpiece)
    draw_outline(canvas, frame, result.heater->workpiece->outline, outline_stroke);
  draw_scales(canvas, frame);
  draw_other_bodies(canvas, frame, result.heater->bodies);
  draw_dimensions(canvas, frame, sizes);
  const bool broken = result.heater->workpiece && [&] {
    const Drawable seen = drawable(frame, extent_of(result.heater->workpiece->outline));
    return seen.broken_above || seen.broken_below;
  }();
  canvas.text({24.0, canvas.height - 10.0},
              fmt::format("{} turns, sizes in mm{}", figure_short(result.heater->coil.turns),
                          broken ? " \u00b7 zigzag: continues beyond the drawing" : ""),
              {11.0, Anchor::start, faint_ink});
  return canvas;
}

}  // namespace cw
