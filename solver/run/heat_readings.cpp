#include "solver/run/heat_readings.hpp"

#include <algorithm>

#include "solver/fem/triangle.hpp"

namespace cw {

namespace {

/// Ac3 of plain carbon steels lies between 730 degC (eutectoid) and some 850 degC (low carbon);
/// common practice, no source.
constexpr Temperature usual_austenite = Temperature::celsius(780.0);

/// Reference coordinates of a place in a straight triangle.
std::array<double, 2> reference(const std::array<Point, 3>& p, Point at) {
  const Point a = p[1] - p[0], b = p[2] - p[0], d = at - p[0];
  const double det = a.r * b.z - a.z * b.r;
  return {(d.r * b.z - d.z * b.r) / det, (a.r * d.z - a.z * d.r) / det};
}

}  // namespace

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
  std::vector<const ThermalMesh::Element*> level;
  for (const auto& e : mesh.elements) {
    if (mesh.body[e.body].region != workpiece) continue;
    const auto [low, high] =
        std::minmax({mesh.at[e.unknown[0]].z, mesh.at[e.unknown[1]].z, mesh.at[e.unknown[2]].z});
    if (low > z || high < z) continue;
    level.push_back(&e);
    for (int i = 0; i < 3; ++i) {
      inner = std::min(inner, mesh.at[e.unknown[i]].r);
      outer = std::max(outer, mesh.at[e.unknown[i]].r);
    }
  }
  for (int k = 0; k <= count; ++k) {
    const Point at{outer + (inner - outer) * k / count, z};
    for (const auto* e : level) {
      const auto [x, y] =
          reference({mesh.at[e->unknown[0]], mesh.at[e->unknown[1]], mesh.at[e->unknown[2]]}, at);
      constexpr double slack = 1e-9;
      if (x < -slack || y < -slack || x + y > 1 + slack) continue;
      Place place{outer - at.r, {}, {}};
      const auto n = shape_values(x, y);
      for (int i = 0; i < 6; ++i) {
        place.unknown[i] = e->unknown[i];
        place.value[i] = n[i];
      }
      inwards_.push_back(place);
      break;
    }
  }
}

HeatReading HeatReadings::operator()(const Eigen::VectorXd& kelvin) const {
  HeatReading reading;
  double before = 0.0, depth_before = 0.0;
  for (const Place& p : inwards_) {
    double here = 0.0;
    for (int i = 0; i < 6; ++i) here += p.value[i] * kelvin[p.unknown[i]];
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

std::optional<Temperature> austenite_of(const Heater& subject) {
  if (subject.heat->harden) return subject.heat->harden;
  const Material& metal = subject.workpiece->material;
  if (!metal.magnetisation || metal.name.find("steel") == std::string::npos) return std::nullopt;
  return std::max(metal.magnetisation->curie, usual_austenite);
}

}  // namespace cw
