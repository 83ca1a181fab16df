#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "materials/figures.hpp"
#include "postproc/making/coil_outline.hpp"
#include "postproc/making/winding_plan.hpp"
#include "solver/heater/rings.hpp"

namespace cw {

namespace {

struct PaperBox {
  double left = 1e300, bottom = 1e300, right = -1e300, top = -1e300;
};

PaperBox paper_box(const std::vector<OutlinePiece>& outline) {
  PaperBox box;
  const auto include = [&](double x, double y) {
    box = {std::min(box.left, x), std::min(box.bottom, y), std::max(box.right, x),
           std::max(box.top, y)};
  };
  for (const OutlinePiece& p : outline) {
    include(p.x - p.radius, p.y - p.radius);
    include(p.x + p.radius, p.y + p.radius);
    if (!p.circle) include(p.to_x, p.to_y);
  }
  return box;
}

/// Maps the plane of the outline to millimetres of paper, y downwards.
struct Paper {
  double left, top;  ///< upper left corner in the plane [m]
  [[nodiscard]] double x(double metres) const { return 1e3 * (metres - left) + margin; }
  [[nodiscard]] double y(double metres) const { return 1e3 * (top - metres) + margin; }
  static constexpr double margin = 5.0;
};

constexpr double foot = 22.0, under = 3.0;  // [mm]

std::string svg_line(double x1, double y1, double x2, double y2, const char* style) {
  return fmt::format("<line x1=\"{:.3f}\" y1=\"{:.3f}\" x2=\"{:.3f}\" y2=\"{:.3f}\"{}/>\n", x1, y1,
                     x2, y2, style);
}

/// Position of the text of a dimension line.
enum class WordsPlace { above, along, right };

std::string svg_words(double x, double y, const std::string& words, WordsPlace side) {
  const std::string turned = side == WordsPlace::along
                                 ? fmt::format(" transform=\"rotate(-90 {:.3f} {:.3f})\"", x, y)
                                 : std::string();
  // The white outline interrupts lines behind the text, where it is wider than its dimension.
  return fmt::format(
      "<text x=\"{:.3f}\" y=\"{:.3f}\" text-anchor=\"{}\" stroke=\"#ffffff\" "
      "stroke-width=\"1.2\" paint-order=\"stroke\" fill=\"#1c2026\"{}>{}</text>\n",
      x, y, side == WordsPlace::right ? "start" : "middle", turned, words);
}

/// A slim arrow head of 2 mm at (x, y) that points along (dx, dy).
std::string svg_head(double x, double y, double dx, double dy) {
  constexpr double length = 2.0, half = 0.5;
  const double back_x = x - length * dx, back_y = y - length * dy;
  return fmt::format(
      "<path d=\"M{:.3f} {:.3f}L{:.3f} {:.3f}L{:.3f} {:.3f}Z\" fill=\"#1c2026\" "
      "stroke=\"none\"/>\n",
      x, y, back_x - half * dy, back_y - half * dx, back_x + half * dy, back_y + half * dx);
}

constexpr const char* thin = " stroke-width=\"0.15\"";

/// The line of a dimension on paper: from `from` to `to` along x or y, at `at` of the other.
struct DimensionLine {
  double from, to, at;
};

DimensionLine dimension_line(const TemplateSize& size, const Paper& paper) {
  const double x1 = paper.x(size.from_x), y1 = paper.y(size.from_y), x2 = paper.x(size.to_x),
               y2 = paper.y(size.to_y), beyond = 1e3 * size.beyond;
  if (size.along) return {std::min(y1, y2), std::max(y1, y2), std::max(x1, x2) + beyond};
  return {std::min(x1, x2), std::max(x1, x2), std::max(y1, y2) + beyond};
}

/// The lines of a dimension along x with its line below, or along y with its line to the right.
std::string dimension(const TemplateSize& size, const Paper& paper) {
  const double x1 = paper.x(size.from_x), y1 = paper.y(size.from_y), x2 = paper.x(size.to_x),
               y2 = paper.y(size.to_y);
  const auto [from, to, at] = dimension_line(size, paper);
  if (size.along) {
    const bool cramped = to - from < 8.0;
    const double inwards = cramped ? -1.0 : 1.0, run = cramped ? 5.0 : 0.0;
    return svg_line(x1 + 1.0, y1, at + 1.5, y1, thin) + svg_line(x2 + 1.0, y2, at + 1.5, y2, thin) +
           svg_line(at, from - run, at, to + run, thin) + svg_head(at, from, 0.0, -inwards) +
           svg_head(at, to, 0.0, inwards);
  }
  return svg_line(x1, y1 + 1.0, x1, at + 1.5, thin) + svg_line(x2, y2 + 1.0, x2, at + 1.5, thin) +
         svg_line(from, at, to, at, thin) + svg_head(from, at, -1.0, 0.0) +
         svg_head(to, at, 1.0, 0.0);
}

std::string dimension_words(const TemplateSize& size, const Paper& paper) {
  const auto [from, to, at] = dimension_line(size, paper);
  const double middle = 0.5 * (from + to);
  if (!size.along) return svg_words(middle, at - 1.0, size.words, WordsPlace::above);
  // [mm] length of the text.
  const bool aside = to - from < 2.0 * static_cast<double>(size.words.size());
  return aside ? svg_words(at + 2.0, middle + 1.0, size.words, WordsPlace::right)
               : svg_words(at - 1.0, middle, size.words, WordsPlace::along);
}

std::string piece(const OutlinePiece& p, const Paper& paper) {
  const char* dash = p.layer == "AXIS"     ? " stroke-dasharray=\"6 1.5 1 1.5\""
                     : p.layer == "FORMER" ? " stroke-dasharray=\"2 1.5\""
                                           : "";
  if (!p.circle)
    return svg_line(paper.x(p.x), paper.y(p.y), paper.x(p.to_x), paper.y(p.to_y), dash);
  return fmt::format("<circle cx=\"{:.3f}\" cy=\"{:.3f}\" r=\"{:.3f}\"{}/>\n", paper.x(p.x),
                     paper.y(p.y), 1e3 * p.radius, dash);
}

/// The extent of the turns of a result [m].
struct TurnBox {
  double inside = 1e300, outside = 0.0, low = 1e300, high = -1e300;
};

TurnBox turn_box(const Result& result) {
  const Conductor& c = result.heater->coil.conductor;
  const double radial = c.radial_size() / 2 + sweep_of_turn(result.heater->coil);
  TurnBox box;
  for (const TurnResult& turn : result.states.front().coil.turns) {
    box.inside = std::min(box.inside, turn.r - radial);
    box.outside = std::max(box.outside, turn.r + radial);
    box.low = std::min(box.low, turn.z - c.axial_size() / 2);
    box.high = std::max(box.high, turn.z + c.axial_size() / 2);
  }
  return box;
}

}  // namespace

TemplateNotes template_notes(const Result& result) {
  assert(result.heater && !result.states.empty());
  const Coil& coil = result.heater->coil;
  const TurnBox box = turn_box(result);
  const WindingPlan plan = winding_plan(coil);
  TemplateNotes notes;
  double low = box.low;  // below everything, so that no dimension line crosses the work
  if (result.heater->workpiece)
    low = std::min(low, extent_of(result.heater->workpiece->outline).low);
  low = std::min(low, box.low - 5e-3);
  const auto across = [&](const std::string& name, double radius, double middle, double beyond) {
    const std::string words = fmt::format("{} \u00d8 {}", name, millimetres(2.0 * radius));
    notes.sizes.push_back({words, false, middle - radius, low, middle + radius, low, beyond});
  };
  across("bore", box.inside, 0.0, 7e-3);
  across("outside", box.outside, 0.0, 13e-3);
  const auto along = [&](const std::string& name, double from, double to, double beyond) {
    notes.sizes.push_back({fmt::format("{} {}", name, millimetres(to - from)), true, box.outside,
                           from, box.outside, to, beyond});
  };
  along("length", box.low, box.high, 6e-3);
  const auto& turns = result.states.front().coil.turns;
  if (turns.size() > 1 && coil.pitch > 0.0 && coil.shape != CoilShape::flat &&
      std::abs(turns[1].z - turns[0].z) > 1e-6) {
    const double a = turns[0].z, b = turns[1].z;
    along("pitch", std::min(a, b), std::max(a, b), 13e-3);
  }
  notes.foot = fmt::format("{} turns, bend radius of the middle of the conductor {} mm",
                           figure_short(coil.turns), millimetres(plan.bend_radius));
  if (plan.former_diameter)
    notes.foot +=
        fmt::format("; dashed circle: former \u00d8 {}", millimetres(*plan.former_diameter));
  return notes;
}

std::string coil_template(const std::vector<OutlinePiece>& outline, const TemplateNotes& notes) {
  const PaperBox box = paper_box(outline);
  const Paper paper{box.left, box.top};
  double below = 0.0;  // dimension lines under the outline [m]
  for (const TemplateSize& size : notes.sizes)
    if (!size.along)
      below = std::max(below, box.bottom - std::min(size.from_y, size.to_y) + size.beyond);
  const double lowest = paper.y(box.bottom) + 1e3 * below + under;
  const double width = std::max(1e3 * (box.right - box.left), 100.0) + 2 * Paper::margin,
               height = lowest + foot;
  std::string text = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
      "width=\"{0:.3f}mm\" height=\"{1:.3f}mm\" viewBox=\"0 0 {0:.3f} {1:.3f}\" fill=\"none\" "
      "stroke=\"#1c2026\" stroke-width=\"0.25\" font-family=\"'DejaVu Sans', Verdana, sans-serif\" "
      "font-size=\"3\">\n",
      width, height);
  for (const OutlinePiece& p : outline) text += piece(p, paper);
  for (const TemplateSize& size : notes.sizes) text += dimension(size, paper);
  for (const TemplateSize& size : notes.sizes) text += dimension_words(size, paper);
  const auto line_of_text = [&](double y, const std::string& words) {
    return fmt::format("<text x=\"{}\" y=\"{:.3f}\" stroke=\"none\" fill=\"#1c2026\">{}</text>\n",
                       Paper::margin, y, words);
  };
  text += fmt::format("<path d=\"M{0} {1:.3f}v4m0 -2h50m0 -2v4\"/>\n", Paper::margin, lowest + 2.0);
  text += line_of_text(lowest + 10.0, "this line must measure 50 mm; all sizes in mm");
  if (!notes.foot.empty()) text += line_of_text(lowest + 15.0, notes.foot);
  return text + "</svg>\n";
}

}  // namespace cw
