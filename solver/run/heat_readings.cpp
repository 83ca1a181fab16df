#include "solver/run/heat_readings.hpp"

#include <algorithm>

namespace cw {

HeatReadings::HeatReadings(const ThermalModel& model, RegionId workpiece, const Stretch& stretch,
                           const ReadingMarks& marks)
    : marks_(marks), mass_(model.mesh().unknowns(), 0.0) {
  const ThermalMesh& mesh = model.mesh();
  for (const auto& e : mesh.elements) {
    const ThermalBody& body = mesh.body[e.body];
    if (body.region != workpiece) continue;
    for (int i = 0; i < 7; ++i)
      mass_[e.unknown[i]] += e.shape.volume[i] * body.material.density.value;
  }
  for (const int e : surface_of(mesh, workpiece, Facing::outward))
    for (const int i : mesh.surface[e].unknown)
      if (mesh.at[i].z >= stretch.from && mesh.at[i].z <= stretch.to)
        surface_.push_back({{i, i, i}, {1.0, 0.0, 0.0}, mesh.at[i].r});
  for (const double end : {stretch.from, stretch.to}) {
    const auto across = places_at_height(mesh, workpiece, end);
    if (!across.empty())
      surface_.push_back(*std::ranges::max_element(across, {}, &EdgePlace::radius));
  }
  find_places(mesh, workpiece, 0.5 * (stretch.from + stretch.to));
}

void HeatReadings::find_places(const ThermalMesh& mesh, RegionId workpiece, double z) {
  constexpr int count = 80;
  double inner = 1e300, outer = 0.0;
  for (const EdgePlace& place : places_at_height(mesh, workpiece, z)) {
    inner = std::min(inner, place.radius);
    outer = std::max(outer, place.radius);
  }
  for (int k = 0; k <= count; ++k) {
    const double depth = (outer - inner) * k / count;
    if (const auto place = place_inside(mesh, workpiece, {outer - depth, z}))
      inwards_.push_back({depth, *place});
  }
}

HeatReading HeatReadings::operator()(const Eigen::VectorXd& kelvin) const {
  HeatReading reading;
  double before = 0.0, depth_before = 0.0;
  for (const Place& p : inwards_) {
    const double here = p.at.read(kelvin);
    const double mark = marks_.austenite.kelvin;
    if (here < mark) {
      if (p.depth > 0 && before > mark)
        reading.hardened_depth =
            depth_before + (p.depth - depth_before) * (before - mark) / (before - here);
      break;
    }
    reading.hardened_depth = p.depth;
    before = here;
    depth_before = p.depth;
  }
  for (std::size_t i = 0; i < mass_.size(); ++i)
    if (kelvin[static_cast<Eigen::Index>(i)] > marks_.view.kelvin) reading.mass_above += mass_[i];
  double low = 1e300, high = 0.0;
  for (const EdgePlace& place : surface_) {
    const double here = place.read(kelvin);
    low = std::min(low, here);
    high = std::max(high, here);
  }
  reading.spread = surface_.empty() ? 0.0 : high - low;
  return reading;
}

}  // namespace cw
