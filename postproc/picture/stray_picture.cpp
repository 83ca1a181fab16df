#include "postproc/picture/stray_picture.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/grid_contours.hpp"
#include "postproc/picture/letters.hpp"
#include "postproc/picture/outlines.hpp"
#include "postproc/picture/sheet.hpp"
#include "solver/field/open_boundary.hpp"

namespace cw {

namespace {

constexpr double square_side = 560.0;  ///< of the square drawn [points]
constexpr int cells = 140;             ///< across the half-plane
/// The reference level replaces 30 uT.
constexpr std::array<double, 7> stray_levels{
    public_reference_level, 1e-6, 3e-6, 1e-5, 1e-4, 3e-4, 1e-3};

/// Half the side of the square: the distance at which the field on the axis has fallen below a few
/// microtesla, in whole 0.1 m between 0.3 and 1 m.
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
  const NodalFlux air = mean_flux_in_air(input.mesh, input.field);
  // Samples are at the middles of pixels; a shift by half a step puts them on the corners.
  const FieldSamples inside =
      sample_field({input.mesh, input.field, nullptr, &air},
                   {reach + 0.5 * step, -reach - 0.5 * step, reach + 0.5 * step}, step);
  CornerGrid grid{cells + 1, 2 * cells + 1, {}};
  for (int row = 0; row < grid.rows; ++row) {
    for (int column = 0; column < grid.columns; ++column) {
      const Point p{column * step, reach - row * step};
      const std::size_t i =
          inside.index(std::min(column, inside.columns - 1), std::min(row, inside.rows - 1));
      double flux = static_cast<double>(inside.flux_rms[i]);
      // The outermost triangles leave slivers of the circle out; the series is valid there too.
      if (inside.region[i] < 0 ||
          std::hypot(p.r, p.z - input.mesh.centre.z) >= input.mesh.open_radius) {
        const auto b = exterior_flux(input.mesh, coefficients, p);
        flux = std::hypot(std::abs(b[0]), std::abs(b[1]));
      }
      // NaN in coil and bodies: they are drawn over it.
      grid.values.push_back(inside.region[i] > 0 ? std::numeric_limits<double>::quiet_NaN()
                                                 : std::log10(std::max(flux, 1e-12)));
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

/// A contour, its lines on the right half of the sheet, and its name.
struct Level {
  std::string name;
  Stroke stroke;
  std::vector<Line> lines;
};

/// The box of a label on the sheet.
struct LabelBox {
  double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;
  [[nodiscard]] bool holds(Spot p) const {
    return p.x > left && p.x < right && p.y > top && p.y < bottom;
  }
  [[nodiscard]] bool meets(const LabelBox& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
  }
};

Level level_of(const Frame& frame, const CornerGrid& grid, double value) {
  const bool reference = value == public_reference_level;
  Level level{figure_short(1e6 * value) + " \u00b5T",
              reference ? Stroke{accent, 1.8, {}} : Stroke{ink, 0.8, {}},
              {}};
  const double step = frame.window.radius / cells;
  for (const Line& line : joined(contour(grid, std::log10(value)))) {
    level.lines.emplace_back();
    for (const Spot s : line)
      level.lines.back().push_back(frame.spot({s.x * step, frame.window.top - s.y * step}, 1));
  }
  return level;
}

/// Boxes of coil and bodies on the right half.
std::vector<LabelBox> boxes_of_solids(const Frame& frame, const Mesh& mesh) {
  std::vector<LabelBox> boxes(mesh.region_name.size(), {1e9, 1e9, -1e9, -1e9});
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] <= 0) continue;
    LabelBox& box = boxes[static_cast<std::size_t>(mesh.region[t])];
    for (const int n : mesh.triangles[t]) {
      const Spot s = frame.spot(mesh.nodes[static_cast<std::size_t>(n)], 1);
      box = {std::min(box.left, s.x), std::min(box.top, s.y), std::max(box.right, s.x),
             std::max(box.bottom, s.y)};
    }
  }
  return boxes;
}

/// Places the label of one level on its own line where its box is free of all other lines, labels,
/// bodies, the axis and the frame. Of these places it takes the one nearest to the diagonal that
/// rises from the middle, so that labels are in a row. Nothing if no place is free.
std::optional<LabelBox> free_box(const Frame& frame, const std::vector<Level>& all, std::size_t own,
                                 const std::vector<LabelBox>& taken) {
  const Lettering style{11.0, Anchor::middle, ink, all[own].stroke.width > 1.0};
  const double half = 0.5 * text_width(all[own].name, style) + 4.0, tall = 8.0;
  const Spot middle = frame.spot({0.0, 0.5 * (frame.window.bottom + frame.window.top)}, 1);
  const auto blocked = [&](const LabelBox& box) {
    if (box.left < frame.axis() + 6.0 || box.right > frame.right() - 3.0 ||
        box.top < frame.top + 3.0 || box.bottom > frame.bottom() - 3.0)
      return true;
    if (std::ranges::any_of(taken, [&](const LabelBox& other) { return box.meets(other); }))
      return true;
    for (std::size_t k = 0; k < all.size(); ++k)
      for (const Line& line : all[k].lines)
        if (k != own && std::ranges::any_of(line, [&](Spot p) { return box.holds(p); }))
          return true;
    return false;
  };
  std::optional<LabelBox> best;
  double least = 1e9;
  for (const Line& line : all[own].lines)
    for (const Spot p : line) {
      const double off = std::abs(std::atan2(middle.y - p.y, p.x - middle.x) - 0.7);
      const LabelBox box{p.x - half, p.y - tall, p.x + half, p.y + tall};
      if (off >= least || blocked(box)) continue;
      least = off;
      best = box;
    }
  return best;
}

/// The parts of the line outside the box.
std::vector<Line> cut_out(const Line& line, const std::optional<LabelBox>& box) {
  std::vector<Line> parts{{}};
  for (const Spot p : line) {
    if (box && box->holds(p)) {
      if (!parts.back().empty()) parts.emplace_back();
      continue;
    }
    parts.back().push_back(p);
  }
  if (parts.back().empty()) parts.pop_back();
  return parts;
}

void draw_level(Canvas& canvas, const Frame& frame, const Level& level,
                const std::optional<LabelBox>& box) {
  Drawn drawn{{}, false, {}, level.stroke};
  for (const Line& line : level.lines) {
    for (Line& part : cut_out(line, box)) drawn.lines.push_back(std::move(part));
    drawn.lines.push_back(line);  // its mirror image is not cut
    for (Spot& p : drawn.lines.back()) p.x = 2.0 * frame.axis() - p.x;
  }
  canvas.items.emplace_back(std::move(drawn));
  if (box)
    canvas.text({0.5 * (box->left + box->right), 0.5 * (box->top + box->bottom) + 4.0}, level.name,
                {11.0, Anchor::middle, level.stroke.colour, level.stroke.width > 1.0});
}

/// Contours with their names.
void draw_levels(Canvas& canvas, const Frame& frame, const CornerGrid& grid, const Mesh& mesh) {
  std::vector<Level> all;
  for (const double value : stray_levels) all.push_back(level_of(frame, grid, value));
  std::vector<LabelBox> taken = boxes_of_solids(frame, mesh);
  for (std::size_t k = 0; k < all.size(); ++k) {
    if (all[k].lines.empty()) continue;
    const auto box = free_box(frame, all, k, taken);
    if (box) taken.push_back(*box);
    draw_level(canvas, frame, all[k], box);
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
    if (!mesh.region_name[region].starts_with("turn.")) {
      canvas.items.emplace_back(std::move(drawn));
      continue;
    }
    // Turns are too small here to show their bores.
    for (Line& loop : drawn.lines)
      canvas.items.emplace_back(Drawn{{std::move(loop)}, true, ink, {}});
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
  draw_levels(canvas, frame, grid, input.mesh);
  draw_solids(canvas, frame, input.mesh);
  draw_scales(canvas, frame);
  canvas.text({24.0, 32.0}, "Stray field", {16.0, Anchor::start, ink, true});
  canvas.text(
      {24.0, 52.0},
      fmt::format("flux density, \u00b5T rms; {}, coil current {} rms",
                  figure(input.field.frequency.hertz, "Hz"), figure(input.current_rms, "A")),
      {13.0, Anchor::start, ink});
  canvas.text(
      {24.0, canvas.height - 34.0},
      "thick red line: 27 \u00b5T, public reference level of ICNIRP 2010; local rules decide",
      {11.0, Anchor::start, ink});
  canvas.text({24.0, canvas.height - 16.0},
              "sizes in mm \u00b7 field of the coil alone; near leads and tank it is higher",
              {10.0, Anchor::start, faint_ink});
  return canvas;
}

}  // namespace cw
