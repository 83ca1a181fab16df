// Writes meshes, media and our own answers for dolfinx_answer.py, which solves the same equations
// on the same mesh, with the same quadrature points, by another library:
//     peer_cases FOLDER      leaves FOLDER/<name>.json, one for each case below
#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <limits>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "solver/fem/triangle.hpp"
#include "tests/bench/seven_turns.hpp"

namespace cw::bench {
namespace {

using nlohmann::json;
using Complex = std::complex<double>;

constexpr double box = 0.25;  // half the height and the radius of the box, A = 0 on it [m]
constexpr int repeats = 5;    // times are the least of so many

struct PeerCase {
  const char* name;
  Frequency frequency;
  double permeability;  ///< of the rod, relative
  TurnKind kind;
};

const PeerCase cases[] = {
    {"aluminium-10-kHz", {10e3}, 1.0, TurnKind::massive},
    {"magnetic-100-kHz", {100e3}, 100.0, TurnKind::massive},
    {"strands-50-kHz", {50e3}, 1.0, TurnKind::uniform},
};

Media media_of(const PeerCase& which) {
  Media media = SevenTurns::media();
  media[SevenTurns::rod].reluctivity = 1 / (which.permeability * mu0);
  if (which.kind == TurnKind::uniform)
    for (const RegionId turn : SevenTurns::turns().region) media[turn].conductivity = 0;
  return media;
}

TurnSet turns_of(const PeerCase& which) {
  TurnSet turns = SevenTurns::turns();
  turns.kind = which.kind;
  turns.resistance.assign(turns.region.size(), 0.0);
  return turns;
}

json pair(Complex z) {
  return {z.real(), z.imag()};
}

json written(const Mesh& mesh) {
  json out;
  for (const Point& p : mesh.nodes) out["nodes"].push_back({p.r, p.z});
  out["triangles"] = mesh.triangles;
  out["region"] = mesh.region;
  out["region_name"] = mesh.region_name;
  out["cores"] = json::array();
  for (const Core& core : mesh.cores) out["cores"].push_back({core.low, core.high, core.radius});
  for (const auto& n : TriangleRule::nodes()) out["rule"].push_back({n.x, n.y, n.weight});
  return out;
}

json answer_of(const EddySystem& system, const SeriesCoil& coil, const TurnResponse& response) {
  json out;
  out["impedance_ohm"] = pair(coil.impedance);
  for (const Complex v : coil.turn_voltage) out["turn_voltage_V"].push_back(pair(v));
  for (Eigen::Index i = 0; i < response.impedance.rows(); ++i)
    for (Eigen::Index j = 0; j < response.impedance.cols(); ++j)
      out["turn_impedance_ohm"].push_back(pair(response.impedance(i, j)));
  out["loss_W"] = region_losses(system.mesh(), coil.field);
  out["energy_J"] = magnetic_energy(system.mesh(), coil.field);
  return out;
}

json solved(const PeerCase& which) {
  Section section = SevenTurns::section(which.frequency);
  section.regions.front().skin_depth /= std::sqrt(which.permeability);
  section.domain = Box{box, -box, box};
  const Mesh mesh = generate_mesh(section);
  const Media media = media_of(which);
  const TurnSet turns = turns_of(which);
  json out = written(mesh);
  double least = std::numeric_limits<double>::infinity();
  for (int k = 0; k < repeats; ++k) {
    const Stopwatch watch;
    EddySystem system(mesh, media);
    const TurnResponse response = solve_turns(system, turns, which.frequency);
    least = std::min(least, watch.processor_ms());
    if (k > 0) continue;
    out["answer"] = answer_of(system, connect_in_series(system, turns, response), response);
    out["unknowns"] = system.unknowns();
  }
  out["name"] = which.name;
  out["omega_rad_per_s"] = which.frequency.omega();
  out["strands"] = which.kind == TurnKind::uniform;
  out["turns"] = turns.region;
  for (const Medium& m : media) {
    out["reluctivity_m_per_H"].push_back(m.reluctivity);
    out["conductivity_S_per_m"].push_back(m.conductivity);
  }
  out["box_m"] = box;
  out["repeats"] = repeats;
  out["milliseconds"] = least;
  return out;
}

}  // namespace
}  // namespace cw::bench

int main(int argc, char** argv) {
  if (argc != 2) {
    fmt::print(stderr, "Usage: peer_cases FOLDER\n");
    return 2;
  }
  for (const cw::bench::PeerCase& which : cw::bench::cases) {
    const std::string file = fmt::format("{}/{}.json", argv[1], which.name);
    std::ofstream out(file);
    out << cw::bench::solved(which).dump() << '\n';
    if (!out.flush()) {
      fmt::print(stderr, "{} could not be written\n", file);
      return 4;
    }
  }
  return 0;
}
