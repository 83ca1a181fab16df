#include "postproc/picture/picture.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <iterator>
#include <optional>

#include "materials/figures.hpp"
#include "postproc/picture/colour_bars.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/flux_lines.hpp"
#include "postproc/picture/isotherms.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/outlines.hpp"
#include "postproc/picture/sheet.hpp"
#include "postproc/picture/skin_strip.hpp"

namespace cw {

namespace {

constexpr double picture_widest = 640.0, picture_highest = 720.0, picture_narrowest = 420.0;
constexpr double pixels_per_point = 2.0;

bool is_turn(const std::string& region) {
  return region.starts_with("turn.");
}

/// Box of the regions for which `wanted(name)` [m]; radius 0 when there are none.
template <class Wanted>
Window box_of(const Mesh& mesh, Wanted wanted) {
  Window box{0.0, 1e300, -1e300};
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] == 0 || !wanted(mesh.region_name[static_cast<std::size_t>(mesh.region[t])]))
      continue;
    for (const int n : mesh.triangles[t]) {
      const Point p = mesh.nodes[static_cast<std::size_t>(n)];
      box = {std::max(box.radius, p.r), std::min(box.bottom, p.z), std::max(box.top, p.z)};
    }
  }
  return box;
}

/// Bodies and coil with a margin; only the part of a long workpiece near the coil.
Window window_of(const Mesh& mesh, bool coil_only) {
  Window all = box_of(mesh, [](const std::string&) { return true; });
  assert(all.radius > 0.0);
  const Window coil = box_of(mesh, is_turn);
  if (coil_only && coil.radius > 0.0) {
    all = coil;
  } else if (coil.radius > 0.0) {
    const double near = 1.5 * std::max(coil.top - coil.bottom, 2.0 * coil.radius);
    all.top = std::min(all.top, coil.top + near);
    all.bottom = std::max(all.bottom, coil.bottom - near);
  }
  const double margin =
      (coil_only ? 0.04 : 0.12) * std::max(2.0 * all.radius, all.top - all.bottom);
  return {all.radius + margin, all.bottom - margin, all.top + margin};
}

/// Fits the window on the sheet; a narrow one is widened until the colour bars fit below it.
Frame fitted(const PictureInput& input, double left_margin, double top_margin) {
  Frame frame;
  frame.window = window_of(input.mesh, input.coil_only);
  const double tall = frame.window.top - frame.window.bottom;
  frame.scale = std::min(picture_widest / (2.0 * frame.window.radius), picture_highest / tall);
  frame.window.radius = std::max(frame.window.radius, 0.5 * picture_narrowest / frame.scale);
  frame.left = left_margin;
  frame.top = top_margin;
  frame.width = 2.0 * frame.window.radius * frame.scale;
  frame.height = tall * frame.scale;
  return frame;
}

Line on_sheet(const Frame& frame, const std::vector<Point>& points, int side) {
  Line line;
  line.reserve(points.size());
  for (const Point p : points) line.push_back(frame.spot(p, side));
  return line;
}

/// The visible parts of an outline: not along the axis, not outside the window.
std::vector<std::vector<Point>> visible(const std::vector<Point>& loop, const Window& w) {
  const double tiny = 1e-9 * w.radius;
  std::vector<std::vector<Point>> parts;
  bool pen_down = false;
  for (std::size_t i = 0; i < loop.size(); ++i) {
    Point a = loop[i], b = loop[(i + 1) % loop.size()];
    const bool shown =
        (a.r > tiny || b.r > tiny) && std::max(a.z, b.z) > w.bottom && std::min(a.z, b.z) < w.top;
    if (!shown) {
      pen_down = false;
      continue;
    }
    const auto cut = [&](Point& p, Point q) {
      const double z = std::clamp(p.z, w.bottom, w.top);
      if (z != p.z) p = {p.r + (z - p.z) / (q.z - p.z) * (q.r - p.r), z};
    };
    const Point from = a, to = b;
    cut(a, to);
    cut(b, from);
    if (!pen_down || !(a == parts.back().back())) parts.push_back({a});
    parts.back().push_back(b);
    pen_down = true;
  }
  return parts;
}

void draw_bodies(Canvas& canvas, const Frame& frame, const PictureInput& input) {
  const Mesh& mesh = input.mesh;
  for (std::size_t region = 1; region < mesh.region_name.size(); ++region) {
    const auto loops = outlines(mesh, static_cast<RegionId>(region));
    const bool turn = is_turn(mesh.region_name[region]);
    for (const int side : {-1, 1}) {
      // Thin on the right: the power is close to the surface and must not be covered.
      const double width = side > 0 ? 0.5 : turn ? 0.9 : 1.3;
      Drawn border{{}, false, {}, Stroke{ink, width, {}}};
      std::vector<Line> closed;
      for (const auto& loop : loops) {
        closed.push_back(on_sheet(frame, loop, side));
        for (const auto& part : visible(loop, frame.window))
          border.lines.push_back(on_sheet(frame, part, side));
      }
      // Hatched as cut metal on the left; on the right the power in the copper must remain visible.
      if (turn && side < 0 && !input.coil_only)
        canvas.items.emplace_back(Drawn{hatching(closed, 3.5), false, {}, Stroke{ink, 0.6, {}}});
      if (side < 0 && !turn && input.left == Shown::temperature) {  // cold work is as dark as ink
        Drawn rim = border;
        rim.stroke = Stroke{{255, 255, 255}, 2.6, {}};
        canvas.items.emplace_back(std::move(rim));
      }
      canvas.items.emplace_back(std::move(border));
    }
  }
}

void draw_flux_lines(Canvas& canvas, const Frame& frame, const PictureInput& input) {
  FluxLineOptions options;
  options.phase = input.current_phase;
  options.detail = 5.0 / frame.scale;
  Drawn drawn{{}, false, {}, Stroke{{28, 32, 38, 0.55}, 0.7, {}}};
  for (const auto& line : flux_lines(input.mesh, input.field, frame.window, options)) {
    for (const int side : {-1, 1}) drawn.lines.push_back(on_sheet(frame, line, side));
  }
  canvas.items.emplace_back(std::move(drawn));
}

/// Rows in which a class of regions is the outermost; longest unbroken range.
struct Sight {
  int first = 0, last = -1;
  int column = 0;  ///< of the surface, in the middle row
};

template <class Wanted>
Sight best_sight(const FieldSamples& samples, Wanted wanted) {
  const auto surface = [&](int row) {
    for (int column = samples.columns - 1; column >= 0; --column) {
      const RegionId region = samples.region[samples.index(column, row)];
      if (region > 0) return wanted(region) ? column : -1;
    }
    return -1;
  };
  Sight best;
  int start = 0;
  for (int row = 0; row <= samples.rows; ++row) {
    if (row < samples.rows && surface(row) >= 0) continue;
    if (row - start > best.last - best.first + 1) best = {start, row - 1, 0};
    start = row + 1;
  }
  if (best.last >= best.first) best.column = surface((best.first + best.last) / 2);
  return best;
}

/// The leader to a body hidden behind others passes over them.
template <class Wanted>
Point some_point(const FieldSamples& samples, const Frame& frame, Wanted wanted) {
  const double step = 1.0 / (pixels_per_point * frame.scale);
  const auto place = [&](int column, int row) {
    return Point{(column + 0.5) * step, frame.window.top - (row + 0.5) * step};
  };
  const Sight sight = best_sight(samples, wanted);
  if (sight.last >= sight.first) {
    const int row = (sight.first + sight.last) / 2;
    const int inwards = std::min(sight.column, 8);
    const bool thick = wanted(samples.region[samples.index(sight.column - inwards, row)]);
    return place(sight.column - (thick ? inwards : 1), row);
  }
  for (int row = 0; row < samples.rows; ++row) {
    for (int column = samples.columns - 1; column >= 0; --column) {
      if (wanted(samples.region[samples.index(column, row)])) return place(column, row);
    }
  }
  return {-1.0, 0.0};
}

std::vector<Callout> callouts_of(const PictureInput& input, const Frame& frame,
                                 const FieldSamples& samples) {
  std::vector<Callout> callouts;
  const auto& names = input.mesh.region_name;
  const auto add = [&](const std::string& text, auto wanted) {
    const Point at = some_point(samples, frame, wanted);
    if (at.r >= 0.0) callouts.push_back({text, at});
  };
  for (std::size_t i = 1; i < names.size(); ++i) {
    if (is_turn(names[i])) continue;
    const auto label = input.labels.find(names[i]);
    add(label == input.labels.end() ? names[i] : label->second,
        [&](RegionId region) { return region == static_cast<RegionId>(i); });
  }
  add(input.coil_label, [&](RegionId region) {
    return region > 0 && is_turn(names[static_cast<std::size_t>(region)]);
  });
  return callouts;
}

double widest_label(const PictureInput& input) {
  double width = text_width(input.coil_label, {});
  for (const auto& name : input.mesh.region_name) {
    const auto label = input.labels.find(name);
    if (name != "air" && !is_turn(name))
      width = std::max(width, text_width(label == input.labels.end() ? name : label->second, {}));
  }
  for (const Isotherm& isotherm : input.isotherms)
    width = std::max(width, text_width(isotherm_label(isotherm), {}));
  return width;
}

/// Removes the last character with all its UTF-8 bytes.
void drop_character(std::string& text) {
  while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U)
    text.pop_back();
  if (!text.empty()) text.pop_back();
}

void draw_title(Canvas& canvas, const PictureInput& input) {
  std::string title = input.title;
  const Lettering bold{16.0, Anchor::start, ink, true};
  while (title.size() > 1 && text_width(title, bold) > canvas.width - 48.0) {
    drop_character(title);
    if (text_width(title + "\u2026", bold) <= canvas.width - 48.0) title += "\u2026";
  }
  canvas.text({24.0, 32.0}, title, bold);
  canvas.text(
      {24.0, 52.0},
      fmt::format("{}{}{}, coil current {} rms", input.moment, input.moment.empty() ? "" : ": ",
                  figure(input.field.frequency.hertz, "Hz"), figure(input.current_rms, "A")),
      {13.0, Anchor::start, ink});
  canvas.text({canvas.width - 24.0, canvas.height - 14.0},
              input.heat != nullptr ? "sizes in mm"
              : input.coil_only ? "sizes in mm \u00b7 the current flows where the field is strong"
                                : "sizes in mm \u00b7 thin lines: flux lines, equal steps of flux, "
                                  "at the peak of the coil current",
              {10.0, Anchor::end, faint_ink});
}

}  // namespace

Frame frame_of(const PictureInput& input) {
  const auto diameters =
      std::count_if(input.dimensions.begin(), input.dimensions.end(),
                    [](const DimensionLine& d) { return d.kind == DimensionLine::Kind::diameter; });
  return fitted(input, 24.0 + widest_label(input) + scale_room,
                84.0 + dimension_step * static_cast<double>(diameters));
}

FieldSamples samples_shown(const PictureInput& input, const Frame& frame, double step) {
  // Without |B| there is nothing to show in air. The values beside a picture show it where no heat
  // is known.
  const bool flux = input.left == Shown::flux_density || input.right == Shown::flux_density ||
                    (input.heat == nullptr && !input.coil_only);
  FieldSamples samples =
      sample_field({input.mesh, input.field, input.heat, nullptr, flux}, frame.window, step);
  for (std::size_t i = 0; i < samples.region.size(); ++i) {
    const RegionId region = samples.region[i];
    if (region > 0 && is_turn(input.mesh.region_name[static_cast<std::size_t>(region)])) continue;
    samples.current_rms[i] = 0.0F;
    if (input.coil_only) samples.power_density[i] = 0.0F;
  }
  return samples;
}

Canvas field_picture(const PictureInput& input) {
  assert(static_cast<std::size_t>(input.field.potential.size()) == input.mesh.nodes.size());
  const auto lengths =
      std::count_if(input.dimensions.begin(), input.dimensions.end(),
                    [](const DimensionLine& d) { return d.kind == DimensionLine::Kind::length; });
  const Frame frame = frame_of(input);
  Canvas canvas;
  const double beside = frame.right() + 36.0 + dimension_step * static_cast<double>(lengths);
  const bool of_power = !input.coil_only && input.right == Shown::power_density;
  const auto skin = of_power ? thin_skin(input, frame) : std::nullopt;
  canvas.width = std::max(560.0, beside + (skin ? strip_room : 0.0));
  canvas.height = frame.bottom() + 126.0;
  const FieldSamples samples = samples_shown(input, frame, 1.0 / (pixels_per_point * frame.scale));
  Ranges ranges{scale_of(samples, input.left), scale_of(samples, input.right)};
  const FieldSamples skin_seen = skin ? skin_samples(input, frame, *skin) : FieldSamples{};
  if (skin) ranges.right.top = std::max(ranges.right.top, strip_top(skin_seen));
  for (HalfScale* half : {&ranges.left, &ranges.right})
    if (half->shown == Shown::temperature) {
      half->top = input.celsius_top;
      for (const Isotherm& isotherm : input.isotherms) half->marks.push_back(isotherm.celsius);
    }
  canvas.items.emplace_back(
      Pasted{{frame.left, frame.top}, frame.width, frame.height, coloured(samples, ranges)});
  if (!input.coil_only && input.heat == nullptr) draw_flux_lines(canvas, frame, input);
  std::vector<Callout> callouts = callouts_of(input, frame, samples);
  if (input.left == Shown::temperature)
    std::ranges::move(draw_isotherms(canvas, frame, input, samples), std::back_inserter(callouts));
  draw_bodies(canvas, frame, input);
  // Solid: if one half is dark and the other pale, gaps in the centre line would look like spots.
  canvas.line({{frame.axis(), frame.top}, {frame.axis(), frame.bottom()}}, {faint_ink, 0.8, {}});
  draw_scales(canvas, frame);
  draw_dimensions(canvas, frame, input.dimensions);
  draw_callouts(canvas, frame, std::move(callouts));
  if (skin)
    draw_skin_strip(canvas, frame, *skin, beside + 20.0, coloured_half(skin_seen, ranges.right));
  draw_colour_bars(canvas, frame, ranges);
  draw_title(canvas, input);
  return canvas;
}

}  // namespace cw
