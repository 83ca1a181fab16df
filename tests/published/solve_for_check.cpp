#include "tests/published/solve_for_check.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "mesh/generate.hpp"
#include "solver/field/refined_mesh.hpp"

namespace cw::published {
namespace {

double skin_depth(const Medium& medium, Frequency f) {
  if (medium.conductivity <= 0) return std::numeric_limits<double>::infinity();
  return std::sqrt(2 * medium.reluctivity / (f.omega() * medium.conductivity));
}

SeriesCoil solve(EddySystem& system, const TurnSet& turns, Frequency f) {
  return connect_in_series(system, turns, solve_turns(system, turns, f));
}

}  // namespace

Checked solve_for_check(Section section, const Media& media, const TurnSet& turns, Frequency f) {
  for (std::size_t i = 0; i < section.regions.size(); ++i) {
    section.regions[i].skin_depth = skin_depth(media.at(i + 1), f);
  }
  Media air(media.size());
  for (const RegionId turn : turns.region) air.at(turn) = media.at(turn);
  const Mesh mesh = refined_mesh(generate_mesh(section), media, turns, f, {2e-3});
  EddySystem system(mesh, media);
  const SeriesCoil coil = solve(system, turns, f);
  EddySystem unloaded(mesh, air);
  const double share = std::abs(coil.impedance / solve(unloaded, turns, f).impedance - 1.0);
  // Where the load keeps the field out the empty coil needs edges that the loaded one does not.
  const AccuracyGoal goal{std::clamp(1e-2 * share, 6e-5, 3e-4)};
  const Mesh finer = refined_mesh(refined_mesh(mesh, media, turns, f, goal), air, turns, f, goal);
  EddySystem loaded(finer, media), empty(finer, air);
  return {solve(loaded, turns, f).impedance - solve(empty, turns, f).impedance,
          region_losses(mesh, coil.field)};
}

TurnSet add_rings(Section& section, Media& media,
                  const std::vector<reference::RectangularRing>& rings) {
  TurnSet turns{TurnKind::uniform, {}, {}, {}};
  for (const reference::RectangularRing& ring : rings) {
    section.regions.push_back({"turn." + std::to_string(turns.region.size() + 1),
                               rectangle({ring.inner, ring.low}, {ring.outer, ring.high})});
    section.regions.back().bends_field = true;
    media.emplace_back();
    turns.region.push_back(static_cast<RegionId>(section.regions.size()));
    turns.weight.push_back(1.0);
    turns.resistance.push_back(0.0);
  }
  return turns;
}

std::vector<reference::Filament> filaments_of(
    const std::vector<reference::RectangularRing>& rings) {
  std::vector<reference::Filament> all;
  for (const reference::RectangularRing& ring : rings) {
    const auto some = reference::filaments_of(ring);
    all.insert(all.end(), some.begin(), some.end());
  }
  return all;
}

std::vector<reference::RectangularRing> rings_of(const RingsOfCheck& rings) {
  std::vector<reference::RectangularRing> all;
  for (int k = 0; k < rings.count; ++k) {
    const double middle = (k - 0.5 * (rings.count - 1)) * rings.pitch;
    all.push_back({rings.inner, rings.inner + rings.width, middle - 0.5 * rings.height,
                   middle + 0.5 * rings.height});
  }
  return all;
}

double reactance_tolerance(std::complex<double> change) {
  return 1e-3 * std::max(std::abs(change.imag()), std::abs(change) / 3);
}

}  // namespace cw::published
