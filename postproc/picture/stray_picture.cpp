#include "postproc/picture/stray_picture.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/grid_contours.hpp"
#include "postproc/picture/outlines.hpp"
#include "postproc/picture/sheet.hpp"
#include "solver/field/open_boundary.hpp"

namespace cw {

namespace {

constexpr double square_side = 560.0;  ///< of the square drawn [points]
constexpr int cells = 140;             ///< across the half-plane
constexpr std::array<double, 7> stray_levels{1e-6, 3e-6, 1e-5, 3e-5, 1e-4, 3e-4, 1e-3};

/// Half the side of the square: where the field on the axis has fallen below a few microtesla, in
/// whole 0.1 m between 0.3 and 1 m.
double reach_of(const Mesh& mesh, const Eigen::VectorXcd& coefficients) {
  for (double reach = 0.3; reach < 1.0; reach += 0.1) {
    const double z = mesh.centre.z + std::max(reach, mesh.open_radius);
    const auto b = exterior_flux(mesh, coefficients, {0.0, z});
    if (std::hypot(std::abs(b[0]), std::abs(b[1])) < 0.1 * public_reference_level) return reach;
  }
  return 1.0;
}

/// log10 |B| at the corners of a grid over the half-plane, sampled inside the mesh and exact
/// outside.
CornerGrid flux_grid(const PictureInput& input, const Eigen::VectorXcd& coefficients,
                     double reach) {
  const double step = reach / cells;
  // Samples lie in the middle of pixels; half a step of shift puts them on the corners.
  const FieldSamples inside =
      sample_field({input.mesh, input.field},
                   {reach + 0.5 * step, -reach - 0.5 * step, reach + 0.5 * step}, step);
  CornerGrid grid{cells + 1, 2 * cells + 1, {}};
  for (int row = 0; row < grid.rows; ++row) {
    for (int column = 0; column < grid.columns; ++column) {
      const Point p{column * step, reach - row * step};
      const std::size_t i =
          inside.index(std::min(column, inside.columns - 1), std::min(row, inside.rows - 1));
      double flux = static_cast<double>(inside.flux_rms[i]);
      // The last triangles leave slivers of the round edge out: there too the series holds.
      if (inside.region[i] < 0 ||
          std::hypot(p.r, p.z - input.mesh.centre.z) >= input.mesh.open_radius) {
        const auto b = exterior_flux(input.mesh, coefficients, p);
        flux = std::hypot(std::abs(b[0]), std::abs(b[1]));
      }
      grid.values.push_back(std::log10(std::max(flux, 1e-12)));
    }
  }
  return grid;
}

Frame frame_with(double reach) {
  Frame frame;
  frame.window = {reach, -reach, reach};
  frame.scale = square_side / (2.0 * reach);
  frame.left = 70.0;
  frame.top = 84.0;
  frame.width = frame.height = square_side;
  return frame;
}

/// A contour and where it crosses the level of the coil's middle.
struct Level {
  double value;
  std::string name;
  Stroke stroke;
  double outermost = -1.0;  ///< radius [m]; negative: nowhere
};

void draw_level(Canvas& canvas, const Frame& frame, const CornerGrid& grid, Level& level) {
  const double step = frame.window.radius / cells;
  Drawn drawn{{}, false, {}, level.stroke};
  for (const Line& piece : contour(grid, std::log10(level.value))) {
    for (const int half : {-1, 1}) {
      Line line;
      for (const Spot s : piece)
        line.push_back(frame.spot({s.x * step, frame.window.top - s.y * step}, half));
      drawn.lines.push_back(std::move(line));
    }
    for (const Spot s : piece)
      if (std::abs(s.y - cells) < 1.0) level.outermost = std::max(level.outermost, s.x * step);
  }
  if (!drawn.lines.empty()) canvas.items.emplace_back(std::move(drawn));
}

/// The values on their contours, those that have room; the first ones given come first.
void name_levels(Canvas& canvas, const Frame& frame, const std::vector<Level>& sorted) {
  constexpr double room = 46.0;
  std::vector<double> taken{frame.axis(), frame.right() + 0.5 * room};
  for (const Level& level : sorted) {
    if (level.outermost < 0.0) continue;
    const Spot at = frame.spot({level.outermost, 0.0}, 1);
    if (std::any_of(taken.begin(), taken.end(),
                    [&](double x) { return std::abs(x - at.x) < room; }))
      continue;
    taken.push_back(at.x);
    canvas.text({at.x, at.y + 4.0}, level.name,
                {11.0, Anchor::middle, level.stroke.colour, level.stroke.width > 1.0, false, true});
  }
}

void draw_solids(Canvas& canvas, const Frame& frame, const Mesh& mesh) {
  for (std::size_t region = 1; region < mesh.region_name.size(); ++region) {
    Drawn drawn{{}, true, Colour{214, 218, 222}, Stroke{ink, 0.5, {}}};
    for (const auto& loop : outlines(mesh, static_cast<RegionId>(region)))
      for (const int half : {-1, 1}) {
        Line line;
        for (const Point p : loop) line.push_back(frame.spot(p, half));
        drawn.lines.push_back(std::move(line));
      }
    if (mesh.region_name[region].starts_with("turn.")) drawn.fill = ink;
    canvas.items.emplace_back(std::move(drawn));
  }
}

}  // namespace

Canvas stray_picture(const PictureInput& input) {
  const OpenBoundary open(input.mesh);
  const Eigen::VectorXcd coefficients = open.coefficients(input.field.potential);
  const double reach = 1.04 * reach_of(input.mesh, coefficients);
  const CornerGrid grid = flux_grid(input, coefficients, reach);
  const Frame frame = frame_with(reach);
  Canvas canvas;
  canvas.width = frame.right() + 40.0;
  canvas.height = frame.bottom() + 88.0;
  draw_solids(canvas, frame, input.mesh);
  std::vector<Level> drawn{{public_reference_level, "27 \u00b5T", {accent, 1.8, {}}}};
  for (const double level : stray_levels)
    drawn.push_back({level, figure_short(1e6 * level) + " \u00b5T", {ink, 0.8, {}}});
  for (Level& level : drawn) draw_level(canvas, frame, grid, level);
  name_levels(canvas, frame, drawn);
  draw_scales(canvas, frame);
  canvas.text({24.0, 32.0}, "Stray field", {16.0, Anchor::start, ink, true});
  canvas.text(
      {24.0, 52.0},
      fmt::format("flux density, \u00b5T rms; {}, coil current {} rms",
                  figure(input.field.frequency.hertz, "Hz"), figure(input.current_rms, "A")),
      {13.0, Anchor::start, ink});
  canvas.text({24.0, canvas.height - 34.0},
              "red line: 27 \u00b5T, public reference level of ICNIRP 2010; local rules decide",
              {11.0, Anchor::start, ink});
  canvas.text({24.0, canvas.height - 16.0},
              "sizes in mm \u00b7 of the coil alone: leads and tank add to it near them",
              {10.0, Anchor::start, faint_ink});
  return canvas;
}

}  // namespace cw
