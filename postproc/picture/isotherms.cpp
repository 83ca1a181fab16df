#include "postproc/picture/isotherms.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <limits>
#include <optional>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/grid_contours.hpp"

namespace cw {

namespace {

/// Temperatures at the centres of pixels, NaN outside the body.
CornerGrid celsius_grid(const PictureInput& input, const FieldSamples& samples,
                        const Isotherm& isotherm) {
  CornerGrid grid{samples.columns, samples.rows, {}};
  grid.values.assign(samples.celsius.size(), std::numeric_limits<double>::quiet_NaN());
  const RegionId wanted = input.mesh.find_region(isotherm.region);
  for (std::size_t i = 0; i < grid.values.size(); ++i)
    if (wanted > 0 && samples.region[i] == wanted)
      grid.values[i] = static_cast<double>(samples.celsius[i]);
  return grid;
}

/// A line given in pixels as points in metres.
std::vector<Point> in_metres(const Line& line, const Frame& frame, double step) {
  std::vector<Point> places;
  places.reserve(line.size());
  for (const Spot s : line)
    places.push_back({(s.x + 0.5) * step, frame.window.top - (s.y + 0.5) * step});
  return places;
}

}  // namespace

std::string isotherm_label(const Isotherm& isotherm) {
  return fmt::format("{} {} \u00b0C", isotherm.name, figure(isotherm.celsius));
}

std::vector<Callout> draw_isotherms(Canvas& canvas, const Frame& frame, const PictureInput& input,
                                    const FieldSamples& samples) {
  std::vector<Callout> callouts;
  const double step = frame.window.radius / samples.columns;
  for (const Isotherm& isotherm : input.isotherms) {
    Drawn drawn{{}, false, {}, Stroke{{255, 255, 255}, 2.8, {}}};
    std::optional<Point> outermost;
    for (const Line& line :
         joined(contour(celsius_grid(input, samples, isotherm), isotherm.celsius))) {
      drawn.lines.emplace_back();
      for (const Point p : in_metres(line, frame, step)) {
        drawn.lines.back().push_back(frame.spot(p, -1));
        if (!outermost || p.r > outermost->r) outermost = p;
      }
    }
    if (!outermost) continue;
    canvas.items.emplace_back(drawn);
    drawn.stroke = Stroke{ink, 1.2, isotherm.dashed ? std::optional(4.0) : std::nullopt};
    canvas.items.emplace_back(std::move(drawn));
    callouts.push_back({isotherm_label(isotherm), *outermost});
  }
  return callouts;
}

}  // namespace cw
