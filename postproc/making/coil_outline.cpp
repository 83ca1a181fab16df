#include "postproc/making/coil_outline.hpp"

#include <algorithm>
#include <cassert>

#include "postproc/making/winding_plan.hpp"

namespace cw {

namespace {

OutlinePiece circle(const char* layer, double x, double y, double radius) {
  return {layer, true, x, y, radius, 0.0, 0.0};
}

OutlinePiece line(const char* layer, double x, double y, double to_x, double to_y) {
  return {layer, false, x, y, 0.0, to_x, to_y};
}

void add_rectangle(std::vector<OutlinePiece>& pieces, const char* layer, double x, double y,
                   double half_width, double half_height) {
  const double left = x - half_width, right = x + half_width, low = y - half_height,
               high = y + half_height;
  pieces.push_back(line(layer, left, low, right, low));
  pieces.push_back(line(layer, right, low, right, high));
  pieces.push_back(line(layer, right, high, left, high));
  pieces.push_back(line(layer, left, high, left, low));
}

void add_turn(std::vector<OutlinePiece>& pieces, const ConductorDesign& conductor, double x,
              double y) {
  const double wall = conductor.wall.value_or(0.0);
  if (conductor.kind == "bar") {
    add_rectangle(pieces, "COIL", x, y, conductor.radial / 2, conductor.axial / 2);
    if (wall > 0.0)
      add_rectangle(pieces, "BORE", x, y, conductor.radial / 2 - wall, conductor.axial / 2 - wall);
    return;
  }
  pieces.push_back(circle("COIL", x, y, conductor.radial / 2));
  if (wall > 0.0) pieces.push_back(circle("BORE", x, y, conductor.radial / 2 - wall));
}

}  // namespace

std::vector<OutlinePiece> coil_outline(const Result& result) {
  assert(result.design && !result.states.empty());
  const CoilDesign& coil = result.design->coil;
  std::vector<OutlinePiece> pieces;
  double low = 0.0, high = 0.0, outside = 0.0;
  for (const TurnResult& turn : result.states.front().coil.turns) {
    for (const double side : {-1.0, 1.0}) add_turn(pieces, coil.conductor, side * turn.r, turn.z);
    low = std::min(low, turn.z - coil.conductor.axial / 2);
    high = std::max(high, turn.z + coil.conductor.axial / 2);
    outside = std::max(outside, turn.r + coil.conductor.radial / 2);
  }
  if (const auto& work = result.design->workpiece)
    add_rectangle(pieces, "WORK", 0.0, 0.5 * (work->bottom + work->top), work->diameter / 2,
                  0.5 * (work->top - work->bottom));
  constexpr double beyond = 5e-3;
  pieces.push_back(line("AXIS", 0.0, low - beyond, 0.0, high + beyond));
  // Seen along the axis, to the right of the section.
  const double middle = 2.0 * outside + 20e-3;
  pieces.push_back(circle("COIL", middle + outside, 0.0, outside));
  pieces.push_back(circle("COIL", middle + outside, 0.0, coil.bore / 2));
  if (const auto former = winding_plan(coil).former_diameter)
    pieces.push_back(circle("FORMER", middle + outside, 0.0, *former / 2));
  return pieces;
}

}  // namespace cw
