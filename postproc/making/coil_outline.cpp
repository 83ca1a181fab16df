#include "postproc/making/coil_outline.hpp"

#include <algorithm>
#include <cassert>

#include "postproc/making/winding_plan.hpp"
#include "solver/heater/rings.hpp"

namespace cw {

namespace {

OutlinePiece circle(const char* layer, double x, double y, double radius) {
  return {layer, true, x, y, radius, 0.0, 0.0};
}

OutlinePiece line(const char* layer, double x, double y, double to_x, double to_y) {
  return {layer, false, x, y, 0.0, to_x, to_y};
}

void add_section(std::vector<OutlinePiece>& pieces, const Disc& disc) {
  pieces.push_back(circle("COIL", disc.centre.r, disc.centre.z, disc.radius));
  if (disc.bore > 0.0) pieces.push_back(circle("BORE", disc.centre.r, disc.centre.z, disc.bore));
}

void add_loop(std::vector<OutlinePiece>& pieces, const char* layer,
              const std::vector<Point>& loop) {
  for (std::size_t i = 0; i < loop.size(); ++i) {
    const Point a = loop[i], b = loop[(i + 1) % loop.size()];
    pieces.push_back(line(layer, a.r, a.z, b.r, b.z));
  }
}

/// The outline of a body of revolution on both sides of the axis, without its edges on the axis.
void add_mirrored(std::vector<OutlinePiece>& pieces, const char* layer,
                  const std::vector<Point>& outline) {
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Point a = outline[i], b = outline[(i + 1) % outline.size()];
    if (std::max(a.r, b.r) <= 0.0) continue;
    for (const double side : {-1.0, 1.0})
      pieces.push_back(line(layer, side * a.r, a.z, side * b.r, b.z));
  }
}

void add_section(std::vector<OutlinePiece>& pieces, const Polygon& polygon) {
  add_loop(pieces, "COIL", polygon.outline);
  for (const auto& hole : polygon.holes) add_loop(pieces, "BORE", hole);
}

}  // namespace

std::vector<OutlinePiece> coil_outline(const Result& result) {
  assert(result.heater && !result.states.empty());
  const Coil& coil = result.heater->coil;
  const double radial = coil.conductor.radial_size(), axial = coil.conductor.axial_size();
  std::vector<OutlinePiece> pieces;
  double low = 0.0, high = 0.0, outside = 0.0;
  for (const TurnResult& turn : result.states.front().coil.turns) {
    for (const double side : {-1.0, 1.0})
      std::visit([&](const auto& shape) { add_section(pieces, shape); },
                 coil.conductor.shape({side * turn.r, turn.z}));
    low = std::min(low, turn.z - axial / 2);
    high = std::max(high, turn.z + axial / 2);
    outside = std::max(outside, turn.r + radial / 2 + sweep_of_turn(coil));
  }
  if (result.heater->workpiece)
    add_mirrored(pieces, "WORK", result.heater->workpiece->outline.profile);
  constexpr double beyond = 5e-3;
  pieces.push_back(line("AXIS", 0.0, low - beyond, 0.0, high + beyond));
  // View along the axis, to the right of the section, with room for two dimension lines of the
  // template between them.
  const double middle = outside + std::max(outside + 20e-3, 45e-3);
  pieces.push_back(circle("COIL", middle + outside, 0.0, outside));
  pieces.push_back(circle("COIL", middle + outside, 0.0, coil.bore / 2));
  if (const auto former = winding_plan(coil).former_diameter)
    pieces.push_back(circle("FORMER", middle + outside, 0.0, *former / 2));
  return pieces;
}

}  // namespace cw
