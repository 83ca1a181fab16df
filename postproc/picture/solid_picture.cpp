#include "postproc/picture/solid_picture.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <set>

#include "materials/figures.hpp"
#include "postproc/picture/colour_bars.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/depth_raster.hpp"
#include "postproc/picture/sheet.hpp"
#include "solver/fem/triangle.hpp"

namespace cw {

namespace {

using std::numbers::pi;
constexpr double turned = 1.5 * pi;  ///< three quarters; the rest shows the section
constexpr double azimuth =
    -0.25 * pi - 0.2;  ///< direction of the eye: in front of the open quarter, a little to one side
constexpr double elevation = 0.42;  ///< of the eye above the horizon [rad]
constexpr int solid_steps = 96;     ///< pieces of the three quarters
// Small enough that its letters are readable in a third of a screen or of a printed page.
constexpr double solid_widest = 420.0, solid_highest = 450.0, solid_narrowest = 290.0,
                 left_room = 56.0, top_room = 72.0;
constexpr int solid_pixels = 2, finer = 2;  // a point has no more pixels on the sheet

/// A node of the section with its power density; negative in a body that carries no current.
struct CutNode {
  Point at;
  double power = 0.0;
};

/// The section of everything but air: triangles with their six nodes, and which of their edges are
/// border.
struct CutTriangle {
  std::array<CutNode, 6> nodes;
  std::array<bool, 3> border{};
};

std::vector<CutTriangle> section_of(const PictureInput& input) {
  const Mesh& mesh = input.mesh;
  std::set<std::array<int, 3>> edges;  // from, to, region
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t)
    for (std::size_t k = 0; k < 3; ++k)
      edges.insert({mesh.triangles[t][k], mesh.triangles[t][(k + 1) % 3], mesh.region[t]});
  const std::vector<double> losses = region_losses(mesh, input.field);
  std::vector<CutTriangle> section;
  for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
    if (mesh.region[t] <= 0) continue;
    CutTriangle cut;
    const bool conducts = losses[static_cast<std::size_t>(mesh.region[t])] > 0.0;
    const auto& n = mesh.triangles[t];
    for (std::size_t k = 0; k < 6; ++k)
      cut.nodes[k] = {
          mesh.nodes[static_cast<std::size_t>(n[k])],
          conducts
              ? field_at(mesh, input.field, t, node_places[k][0], node_places[k][1]).power_density
              : -1.0};
    for (std::size_t k = 0; k < 3; ++k)
      cut.border[k] = !edges.contains({n[(k + 1) % 3], n[k], mesh.region[t]});
    section.push_back(cut);
  }
  return section;
}

/// End of the scale; a few points at sharp edges must not determine it.
double top_of(const std::vector<CutTriangle>& section) {
  std::vector<double> powers;
  for (const CutTriangle& cut : section)
    for (const CutNode& node : cut.nodes)
      if (node.power > 0.0) powers.push_back(node.power);
  if (powers.empty()) return 0.0;
  const auto at =
      powers.begin() + static_cast<std::ptrdiff_t>(0.995 * static_cast<double>(powers.size() - 1));
  std::nth_element(powers.begin(), at, powers.end());
  return std::pow(10.0, std::ceil(std::log10(*at) - 0.05));
}

/// Direction and scale of the view.
class SolidView {
 public:
  SolidView(double radius, double bottom, double top)
      : middle_(0.5 * (bottom + top)),
        half_width_(radius),
        half_height_(radius * std::sin(elevation) + 0.5 * (top - bottom) * std::cos(elevation)) {
    scale_ = std::min(solid_widest / (2.0 * half_width_), solid_highest / (2.0 * half_height_));
    left = left_room + std::max(0.0, 0.5 * (solid_narrowest - width()));
  }
  double left;                                           ///< position on the sheet [points]
  [[nodiscard]] double scale() const { return scale_; }  ///< points per metre across the view
  [[nodiscard]] double width() const { return 2.0 * half_width_ * scale_; }    ///< [points]
  [[nodiscard]] double height() const { return 2.0 * half_height_ * scale_; }  ///< [points]
  /// Distance of a point on the axis below the upper edge [points].
  [[nodiscard]] double level(double z) const {
    return scale_ * (half_height_ - (z - middle_) * std::cos(elevation));
  }
  /// In pixels of the raster.
  [[nodiscard]] SeenCorner seen(Point p, double angle, double share) const {
    const double along = p.r * std::cos(angle - azimuth), across = p.r * std::sin(angle - azimuth);
    const double pixels = scale_ * solid_pixels * finer, z = p.z - middle_;
    return {pixels * (across + half_width_),
            pixels * (half_height_ - (z * std::cos(elevation) - along * std::sin(elevation))),
            pixels * (along * std::cos(elevation) + z * std::sin(elevation)), share};
  }

 private:
  double middle_, half_width_, half_height_, scale_ = 1.0;
};

SolidView view_of(const std::vector<CutTriangle>& section) {
  double radius = 0.0, bottom = 1e300, top = -1e300;
  for (const CutTriangle& cut : section)
    for (const CutNode& node : cut.nodes) {
      radius = std::max(radius, node.at.r);
      bottom = std::min(bottom, node.at.z);
      top = std::max(top, node.at.z);
    }
  return {radius, bottom, top};
}

class Scene {
 public:
  Scene(const SolidView& view, double top)
      : view_(view),
        top_(top),
        raster_(static_cast<int>(view.width() * solid_pixels) * finer,
                static_cast<int>(view.height() * solid_pixels) * finer) {}

  void add(const CutTriangle& cut) {
    for (const double angle : {0.0, turned}) add_cut(cut, angle);
    for (std::size_t k = 0; k < 3; ++k) {
      const std::array<CutNode, 3> line{cut.nodes[k], cut.nodes[k + 3], cut.nodes[(k + 1) % 3]};
      if (cut.border[k] && (line[0].at.r > 0.0 || line[2].at.r > 0.0)) add_band(line);
    }
  }

  [[nodiscard]] Raster picture() const { return raster_.reduced(finer); }

 private:
  [[nodiscard]] double share(const CutNode& node) const {
    if (node.power < 0.0 || top_ <= 0.0) return -1.0;
    if (node.power <= 0.0) return 0.0;
    return std::clamp(1.0 + std::log10(node.power / top_) / power_decades, 0.0, 1.0);
  }
  [[nodiscard]] SeenCorner seen(const CutNode& node, double angle) const {
    return view_.seen(node.at, angle, share(node));
  }

  /// The triangle as four straight ones on a cut face, in the colours of the scale.
  void add_cut(const CutTriangle& cut, double angle) {
    constexpr std::array<std::array<std::size_t, 3>, 4> quarters{
        {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}}};
    std::array<SeenCorner, 6> at;
    for (std::size_t k = 0; k < 6; ++k) at[k] = seen(cut.nodes[k], angle);
    for (const auto& q : quarters) raster_.face({at[q[0]], at[q[1]], at[q[2]]}, 1.0);
    for (std::size_t k = 0; k < 3; ++k)
      if (cut.border[k]) {
        raster_.line(at[k], at[k + 3], lead);
        raster_.line(at[k + 3], at[(k + 1) % 3], lead);
      }
  }

  /// Brightness of a band by its orientation; light comes from above and from the left of the eye.
  [[nodiscard]] static double light(double out, double up, double angle) {
    const double towards = out * std::cos(angle - azimuth + 0.6) * 0.8 + up * 0.6;
    return 0.72 + 0.28 * std::clamp(towards, 0.0, 1.0);
  }

  /// An edge of the border turned about the axis.
  void add_band(const std::array<CutNode, 3>& line) {
    const double dr = line[2].at.r - line[0].at.r, dz = line[2].at.z - line[0].at.z;
    const double length = std::hypot(dr, dz);
    if (length <= 0.0) return;
    for (int i = 0; i < solid_steps; ++i) {
      const double a = turned * i / solid_steps, b = turned * (i + 1) / solid_steps;
      // Corners of triangles are anticlockwise: outside is to the right of the edge.
      const double bright = light(dz / length, -dr / length, 0.5 * (a + b));
      for (std::size_t k = 0; k < 2; ++k) {
        const SeenCorner p = seen(line[k], a), q = seen(line[k], b), r = seen(line[k + 1], b),
                         s = seen(line[k + 1], a);
        raster_.face({p, q, r}, bright);
        raster_.face({p, r, s}, bright);
      }
    }
  }

  static constexpr double lead = 1.5;  ///< pixels
  const SolidView& view_;
  double top_;
  DepthRaster raster_;
};

/// Draws a bar of round length across, and a scale of heights along the axis, in mm.
void draw_millimetres(Canvas& canvas, const SolidView& view, double bottom, double top) {
  const double step = 1e-3 * round_step(1e3 * (top - bottom), 12);
  const int first = static_cast<int>(std::ceil(bottom / step - 1e-9)),
            last = static_cast<int>(std::floor(top / step + 1e-9));
  for (int k = first; k <= last; ++k) {
    const double z = k * step, y = top_room + view.level(z);
    canvas.line({{view.left - 14.0, y}, {view.left - 8.0, y}}, {faint_ink, 0.8, {}});
    canvas.text({view.left - 18.0, y + 4.0}, figure_short(1e3 * z), {11.0, Anchor::end, faint_ink});
  }
  canvas.line({{view.left - 8.0, top_room + view.level(top)},
               {view.left - 8.0, top_room + view.level(bottom)}},
              {faint_ink, 0.8, {}});
  const double length = 1e-3 * round_step(1e3 * view.width() / view.scale(), 3);
  const double x = view.left + 0.5 * (view.width() - length * view.scale()),
               y = top_room + view.height() + 20.0;
  const double end = x + length * view.scale();
  canvas.line({{x, y}, {end, y}}, {ink, 1.2, {}});
  for (const double at : {x, end}) canvas.line({{at, y - 4.0}, {at, y + 4.0}}, {ink, 1.2, {}});
  canvas.text({end + 8.0, y + 4.0}, fmt::format("{} mm across", figure_short(1e3 * length)),
              {11.0, Anchor::start, ink});
}

}  // namespace

Canvas solid_picture(const PictureInput& input) {
  const std::vector<CutTriangle> section = section_of(input);
  const SolidView view = view_of(section);
  const double top = top_of(section);
  Scene scene(view, top);
  for (const CutTriangle& cut : section) scene.add(cut);
  Canvas canvas;
  Frame frame;
  const double room = std::max(view.width(), solid_narrowest);
  frame.width = 2.0 * room;
  frame.left = left_room - 0.5 * frame.width;
  frame.top = top_room;
  frame.height = view.height() + 14.0;
  canvas.width = left_room + room + 40.0;
  canvas.height = frame.bottom() + 126.0;
  canvas.items.emplace_back(
      Pasted{{view.left, top_room}, view.width(), view.height(), scene.picture()});
  double bottom = 1e300, highest_z = -1e300;
  for (const CutTriangle& cut : section)
    for (const CutNode& node : cut.nodes) {
      bottom = std::min(bottom, node.at.z);
      highest_z = std::max(highest_z, node.at.z);
    }
  draw_millimetres(canvas, view, bottom, highest_z);
  draw_colour_bars(canvas, frame,
                   {{Shown::flux_density, 0.0, false}, {Shown::power_density, top, false}});
  canvas.text({24.0, 32.0}, "Coil and work, cut open", {16.0, Anchor::start, ink, true});
  canvas.text({24.0, 52.0},
              fmt::format("{}, coil current {} rms", figure(input.field.frequency.hertz, "Hz"),
                          figure(input.current_rms, "A")),
              {13.0, Anchor::start, ink});
  canvas.text({canvas.width - 24.0, canvas.height - 14.0},
              "heights in mm \u00b7 grey: carries no current", {10.0, Anchor::end, faint_ink});
  return canvas;
}

}  // namespace cw
