#include "solver/coupled/loaded_coil.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "mesh/generate.hpp"

namespace cw {
namespace {

constexpr double coil_copper = 58e6;  // [S/m]
using std::numbers::pi;
constexpr double coil_radius = 0.030;

/// Three rings in air that represent 2.7 turns, meshed as discs of `ring`.
LoadedCoil three_rings(Winding winding, RoundConductor ring, Frequency f) {
  Section section;
  Media media{{}};
  for (int k = 0; k < 3; ++k) {
    section.regions.push_back({"turn." + std::to_string(k + 1),
                               Disc{{coil_radius, 0.010 * k},
                                    ring.outer_radius,
                                    ring.solid() ? 0.0 : ring.outer_radius - ring.wall},
                               skin_depth(coil_copper, 1.0, f)});
    winding.turns.region.push_back(static_cast<RegionId>(k) + 1);
    winding.turns.weight.push_back(0.9);
    winding.radius.push_back(coil_radius);
    media.push_back({winding.strands ? 0.0 : coil_copper});
  }
  winding.ring_conductor = ring;
  const Mesh mesh = generate_mesh(section, {});
  EddySystem system(mesh, media);
  return solve_loaded_coil(system, winding, f);
}

// A winding of strands has the resistance of all strands side by side along its turns, and no other
// at 50 Hz.
TEST(LoadedCoil, StrandsAtDirectCurrent) {
  Winding winding;
  winding.turns.kind = TurnKind::uniform;
  winding.strands = Bundle{200, 50e-6, coil_copper, 1.04};
  const LoadedCoil coil = three_rings(winding, {0.0015, 0.0, coil_copper}, {50.0});
  const double wanted =
      2.7 * 2 * pi * coil_radius * 1.04 / (200 * coil_copper * pi * 50e-6 * 50e-6);
  EXPECT_NEAR(coil.dc_resistance, wanted, 1e-9 * wanted);
  EXPECT_NEAR(coil.conductor_resistance, wanted, 1e-4 * wanted);
}

// A tube whose rings represent less than a turn each, and are meshed smaller, has the resistance of
// the tube. The curvature of the rings contributes (a/2R)^2 = 0.1 %.
TEST(LoadedCoil, TubesAtDirectCurrent) {
  Winding winding;
  winding.conductor = {0.003, 0.001, coil_copper};
  const LoadedCoil coil = three_rings(winding, {0.0027, 0.0009, coil_copper}, {50.0});
  const double area = pi * (0.003 * 0.003 - 0.002 * 0.002);
  const double wanted = 2.7 * 2 * pi * coil_radius / (coil_copper * area);
  EXPECT_NEAR(coil.dc_resistance, wanted, 3e-3 * wanted);
  EXPECT_NEAR(coil.conductor_resistance, wanted, 5e-3 * wanted);
  EXPECT_NEAR(coil.resistance, coil.conductor_resistance, 1e-12 * wanted);
}

// In an even field of B the mean of |H|^2 is (B/mu0)^2, complex or not.
TEST(MeanSquareField, OfAnEvenField) {
  Section section;
  section.regions.push_back({"turn.1", Disc{{coil_radius, 0}, 0.002, 0.0}, 0.001});
  Mesh mesh = generate_mesh(section, {});
  mesh.cores.clear();  // plain polynomials hold an even field exactly, in curved triangles too
  const std::complex<double> flux{3e-3, -4e-3};  // [T] rms
  FieldSolution field{{1e3}, {{}, {}}, Eigen::VectorXcd(mesh.nodes.size()), {0, 0}, {0, 0}};
  for (std::size_t i = 0; i < mesh.nodes.size(); ++i)
    field.potential[static_cast<Eigen::Index>(i)] = 0.5 * flux * mesh.nodes[i].r;
  const double wanted = std::norm(flux) / (mu0 * mu0);
  EXPECT_NEAR(mean_square_field(mesh, field, 1), wanted, 1e-9 * wanted);
}

}  // namespace
}  // namespace cw
