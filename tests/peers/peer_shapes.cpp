// Writes the shapes, media and our own answers of heaters for own_mesh_answer.py, which meshes the
// shapes itself and solves them by another library:
//     peer_shapes FOLDER      leaves FOLDER/<number>-<name>.json, one for each heater
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "mesh/generate.hpp"
#include "solver/field/refined_mesh.hpp"
#include "tests/peers/heaters.hpp"

namespace cw::peers {
namespace {

using nlohmann::json;

/// Of the turns in series with 1 A rms.
struct Answer {
  double inductance = 0;     ///< [H]
  std::vector<double> loss;  ///< [W], one per region, air first
  int unknowns = 0;
};

/// All compared figures come from here, as a user gets them at the accuracy `normal`: without a
/// sizing made for the case.
Answer solved_by_us(const Section& section, const Media& media, const TurnSet& turns,
                    Frequency frequency) {
  const Mesh mesh = refined_mesh(generate_mesh(section), media, turns, frequency, {});
  EddySystem system(mesh, media);
  const SeriesCoil coil = connect_in_series(system, turns, solve_turns(system, turns, frequency));
  return {coil.impedance.imag() / frequency.omega(), region_losses(mesh, coil.field),
          system.unknowns()};
}

json pairs(const std::vector<Point>& points) {
  json out = json::array();
  for (const Point& p : points) out.push_back({p.r, p.z});
  return out;
}

json shape_of(const Disc& disc) {
  return {{"centre", {disc.centre.r, disc.centre.z}}, {"radius", disc.radius}, {"bore", disc.bore}};
}

json shape_of(const Polygon& polygon) {
  json holes = json::array();
  for (const std::vector<Point>& hole : polygon.holes) holes.push_back(pairs(hole));
  return {{"outline", pairs(polygon.outline)}, {"holes", holes}};
}

/// Shapes in metres; a region without eddy currents has no skin depth.
json written(const SectionRegion& region, const Medium& medium, double loss) {
  json out;
  out["name"] = region.name;
  out["shape_m"] = std::visit([](const auto& shape) { return shape_of(shape); }, region.shape);
  out["conductivity_S_per_m"] = medium.conductivity;
  out["reluctivity_m_per_H"] = medium.reluctivity;
  out["skin_depth_m"] = std::isfinite(region.skin_depth) ? json(region.skin_depth) : json();
  out["loss_W"] = loss;
  return out;
}

json solved(const Heater& heater) {
  const Answer answer = solved_by_us(heater.section, heater.media, heater.turns, heater.frequency);
  json out;
  out["name"] = heater.name;
  out["frequency_Hz"] = heater.frequency.hertz;
  out["strands"] = heater.turns.kind == TurnKind::uniform;
  for (const RegionId turn : heater.turns.region) out["turns"].push_back(turn - 1);
  for (std::size_t k = 0; k < heater.section.regions.size(); ++k)
    out["regions"].push_back(
        written(heater.section.regions[k], heater.media[k + 1], answer.loss[k + 1]));
  out["inductance_H"] = answer.inductance;
  out["unknowns"] = answer.unknowns;
  return out;
}

}  // namespace
}  // namespace cw::peers

int main(int argc, char** argv) {
  if (argc != 2) {
    fmt::print(stderr, "Usage: peer_shapes FOLDER\n");
    return 2;
  }
  int number = 0;
  for (const cw::peers::Heater& heater : cw::peers::heaters()) {
    std::string name = heater.name;
    std::ranges::replace(name, ' ', '-');
    const std::string file = fmt::format("{}/{}-{}.json", argv[1], ++number, name);
    std::ofstream out(file);
    out << cw::peers::solved(heater).dump() << '\n';
    if (!out.flush()) {
      fmt::print(stderr, "{} could not be written\n", file);
      return 4;
    }
  }
  return 0;
}
