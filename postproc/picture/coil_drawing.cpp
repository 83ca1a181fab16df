#include "postproc/picture/coil_drawing.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
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
  const double radial = c.radial_size(), axial = c.axial_size();
  Extent e;
  for (const TurnResult& turn : result.states.front().coil.turns) {
    e.inside = std::min(e.inside, turn.r - radial / 2);
    e.outside = std::max(e.outside, turn.r + radial / 2);
    e.low = std::min(e.low, turn.z - axial / 2);
    e.high = std::max(e.high, turn.z + axial / 2);
  }
  return e;
}

/// The coil with a margin, and of the workpiece what lies near it.
Frame frame_of(const Result& result, const Extent& coil, double top) {
  Window window{1.15 * coil.outside, coil.low, coil.high};
  const double near = 0.6 * std::max(coil.high - coil.low, 2.0 * coil.outside);
  if (result.heater->workpiece) {
    const OutlineExtent work = extent_of(result.heater->workpiece->outline);
    window.bottom = std::min(window.bottom, std::max(work.low, coil.low - near));
    window.top = std::max(window.top, std::min(work.high, coil.high + near));
    window.radius = std::max(window.radius, 1.15 * work.outer);
  }
  const double margin = 0.06 * (window.top - window.bottom + window.radius);
  window.bottom -= margin;
  window.top += margin;
  Frame frame;
  frame.window = window;
  frame.scale =
      std::min(coil_widest / (2.0 * window.radius), coil_highest / (window.top - window.bottom));
  frame.window.radius = std::max(window.radius, 0.5 * 240.0 / frame.scale);
  frame.left = 64.0;
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

void draw_workpiece(Canvas& canvas, const Frame& frame, const OutlineExtent& work) {
  const double top = std::min(work.high, frame.window.top),
               bottom = std::max(work.low, frame.window.bottom);
  const auto at = [&](double z, int side) { return frame.spot({work.outer, z}, side); };
  if (work.high <= frame.window.top) canvas.line({at(top, -1), at(top, 1)}, outline_stroke);
  if (work.low >= frame.window.bottom) canvas.line({at(bottom, -1), at(bottom, 1)}, outline_stroke);
  for (const int side : {-1, 1}) canvas.line({at(bottom, side), at(top, side)}, outline_stroke);
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

}  // namespace

Canvas coil_drawing(const Result& result) {
  assert(result.heater && !result.states.empty());
  const Extent coil = extent_of(result);
  const std::vector<DimensionLine> sizes = dimensions_of(result, coil);
  const auto lengths = std::count_if(sizes.begin(), sizes.end(), [](const DimensionLine& d) {
    return d.kind == DimensionLine::Kind::length;
  });
  const double top =
      24.0 + dimension_step * static_cast<double>(sizes.size() - static_cast<std::size_t>(lengths));
  const Frame frame = frame_of(result, coil, top + 12.0);
  Canvas canvas;
  canvas.width = frame.right() + 40.0 + dimension_step * static_cast<double>(lengths);
  canvas.height = frame.bottom() + 52.0;
  draw_turns(canvas, frame, result);
  if (result.heater->workpiece)
    draw_workpiece(canvas, frame, extent_of(result.heater->workpiece->outline));
  draw_scales(canvas, frame);
  draw_dimensions(canvas, frame, sizes);
  canvas.text({24.0, canvas.height - 10.0},
              fmt::format("{} turns, sizes in mm", figure_short(result.heater->coil.turns)),
              {11.0, Anchor::start, faint_ink});
  return canvas;
}

}  // namespace cw
