#include "cases/parts.hpp"

#include <algorithm>
#include <limits>
#include <span>

#include <fmt/format.h>

#include "mesh/planar/outline.hpp"

namespace cw::cases {

std::vector<PartView> parts_of(const Case& subject) {
  std::vector<PartView> parts;
  if (subject.workpiece) {
    const Workpiece& piece = *subject.workpiece;
    parts.push_back({"workpiece", "the workpiece", piece.outline, piece.material, piece.temperature,
                     piece.temperature_profile});
  }
  const Temperature cold =
      subject.workpiece ? subject.workpiece->temperature : Temperature::celsius(20.0);
  for (std::size_t i = 0; i < subject.bodies.size(); ++i) {
    const Body& body = subject.bodies[i];
    parts.push_back({fmt::format("body.{}", i), fmt::format("the body \"{}\"", body.name),
                     body.outline, body.material, body.temperature.value_or(cold),
                     body.temperature_profile});
  }
  return parts;
}

std::string size_key(const PartView& part) {
  return part.key + (part.outline.diameter ? ".diameter" : ".profile");
}

namespace {

/// Distance from an outline to a circle or a polygon; negative or 0 if they overlap.
double clearance_to(std::span<const Point> profile, const Disc& disc) {
  const double apart = distance(disc.centre, profile);
  return (inside(disc.centre, profile) ? -apart : apart) - disc.radius;
}

double clearance_to(std::span<const Point> profile, const Polygon& polygon) {
  if (overlap(profile, polygon.outline)) return -1.0;
  double least = std::numeric_limits<double>::infinity();
  for (const Segment& a : sides(profile)) {
    for (const Segment& b : sides(polygon.outline)) least = std::min(least, distance(a, b));
  }
  return least;
}

}  // namespace

double clearance(const Outline& outline, const Conductor& conductor, const RingPlace& turn) {
  return std::visit([&](const auto& shape) { return clearance_to(outline.profile, shape); },
                    conductor.shape({turn.r, turn.z}));
}

}  // namespace cw::cases
