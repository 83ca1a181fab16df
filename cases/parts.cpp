#include "cases/parts.hpp"

#include <algorithm>
#include <limits>

#include <fmt/format.h>

#include "cases/read/polygon.hpp"

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

double clearance(const Outline& outline, const Conductor& conductor, const RingPlace& turn) {
  const std::vector<Corner>& profile = outline.profile;
  if (!std::holds_alternative<RectangularBar>(conductor.section)) {
    const double apart = distance({turn.r, turn.z}, profile);
    return (inside({turn.r, turn.z}, profile) ? -apart : apart) - conductor.radial_size() / 2.0;
  }
  const double hr = conductor.radial_size() / 2.0, hz = conductor.axial_size() / 2.0;
  const std::vector<Corner> bar = {{turn.r - hr, turn.z - hz},
                                   {turn.r + hr, turn.z - hz},
                                   {turn.r + hr, turn.z + hz},
                                   {turn.r - hr, turn.z + hz}};
  if (overlap(profile, bar)) return -1.0;
  double least = std::numeric_limits<double>::infinity();
  for (const Side& a : sides(profile)) {
    for (const Side& b : sides(bar)) least = std::min(least, distance(a, b));
  }
  return least;
}

}  // namespace cw::cases
