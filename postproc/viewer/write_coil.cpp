#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

#include "postproc/viewer/poly_file.hpp"
#include "postproc/viewer/write_solid.hpp"

namespace cw {

namespace {

using std::numbers::pi;
constexpr int per_turn = 72;

/// Cross-section of the conductor: (radial, axial) from its middle [m].
std::vector<std::array<double, 2>> outline_of(const Disc& disc) {
  std::vector<std::array<double, 2>> outline;
  constexpr int sides = 16;
  for (int k = 0; k < sides; ++k)
    outline.push_back(
        {disc.radius * std::cos(2 * pi * k / sides), disc.radius * std::sin(2 * pi * k / sides)});
  return outline;
}

std::vector<std::array<double, 2>> outline_of(const Polygon& polygon) {
  std::vector<std::array<double, 2>> outline;
  for (const Point p : polygon.outline) outline.push_back({p.r, p.z});
  return outline;
}

/// A point along the middle of the conductor.
struct Place {
  double angle, r, z, loss;
};

/// Loss per metre at `turns` along the winding, from the rings, linear between their middles.
double loss_at(const CoilResult& solved, double turns) {
  const auto per_metre = [&](std::size_t k) {
    const TurnResult& t = solved.turns[k];
    return t.loss / (2 * pi * t.r * t.weight);
  };
  const double count = static_cast<double>(solved.turns.size());
  const double at = std::clamp(turns / solved.winding_turns * count - 0.5, 0.0, count - 1.0);
  const auto low = static_cast<std::size_t>(at);
  const std::size_t high = std::min(low + 1, solved.turns.size() - 1);
  const double share = at - std::floor(at);
  return (1 - share) * per_metre(low) + share * per_metre(high);
}

/// The winding of N turns as one line: helix, cone or spiral.
std::vector<Place> wound(const Coil& coil, const CoilResult& solved) {
  std::vector<Place> places;
  const int count = std::max(2, static_cast<int>(std::ceil(coil.turns * per_turn)));
  const double half = coil.conductor.radial_size() / 2;
  for (int i = 0; i <= count; ++i) {
    const double turns = coil.turns * i / count, share = static_cast<double>(i) / count;
    double r = coil.bore / 2 + half, z = (turns - coil.turns / 2) * coil.pitch;
    if (coil.shape == CoilShape::cone)
      r += share * (coil.bore_end.value_or(coil.bore) - coil.bore) / 2;
    if (coil.shape == CoilShape::flat) {
      r += turns * coil.pitch;
      z = 0.0;
    }
    places.push_back({2 * pi * turns, r, z, loss_at(solved, turns)});
  }
  return places;
}

void add_tube(PolySurface& surface, const std::vector<Place>& places,
              const std::vector<std::array<double, 2>>& outline) {
  const auto sides = static_cast<std::int64_t>(outline.size());
  const auto first = static_cast<std::int64_t>(surface.points.size());
  for (const Place& p : places) {
    for (const auto& [radial, axial] : outline) {
      const double r = p.r + radial;
      surface.points.push_back(in_the_room(r, p.angle, p.z + axial));
      surface.at_points[0].values.push_back(p.loss);
    }
  }
  for (std::int64_t i = 0; i + 1 < static_cast<std::int64_t>(places.size()); ++i) {
    for (std::int64_t k = 0; k < sides; ++k) {
      const std::int64_t next = (k + 1) % sides, here = first + i * sides;
      surface.polygons.push_back({here + k, here + next, here + sides + next, here + sides + k});
    }
  }
}

}  // namespace

void write_coil(const std::filesystem::path& path, const Coil& coil, const CoilResult& solved) {
  assert(!solved.turns.empty());
  PolySurface surface;
  surface.at_points = {{"loss per length [W/m]", {}}};
  const auto outline =
      std::visit([](const auto& shape) { return outline_of(shape); }, coil.conductor.shape({}));
  if (coil.shape == CoilShape::rings) {
    for (const TurnResult& turn : solved.turns) {
      std::vector<Place> ring;
      for (int i = 0; i <= per_turn; ++i)
        ring.push_back({2 * pi * i / per_turn, turn.r, turn.z, turn.loss / (2 * pi * turn.r)});
      add_tube(surface, ring, outline);
    }
  } else {
    add_tube(surface, wound(coil, solved), outline);
  }
  write_poly_file(path, surface);
}

}  // namespace cw
