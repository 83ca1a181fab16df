#include "solver/coupled/ring_response.hpp"

#include <gtest/gtest.h>

#include "mesh/generate.hpp"

namespace cw {
namespace {

constexpr Frequency f{50e3};
constexpr double copper = 58e6, aluminium = 25e6;  // [S/m]

double depth(double conductivity) {
  return skin_depth(conductivity, 1.0, f);
}

/// Rings at these heights round a bar, by the field of all of them together.
struct Whole {
  Section section;
  Media media{{}};
  Winding winding;

  explicit Whole(const std::vector<double>& heights) {
    section.regions.push_back(
        {"workpiece", rectangle({0, -0.02}, {0.010, 0.02}), depth(aluminium)});
    media.push_back({aluminium});
    for (const double z : heights) {
      winding.turns.region.push_back(static_cast<RegionId>(section.regions.size()) + 1);
      winding.turns.weight.push_back(1.0);
      winding.radius.push_back(0.019);
      section.regions.push_back({"turn." + std::to_string(section.regions.size()),
                                 Disc{{0.019, z}, 0.003, 0.002}, depth(copper)});
      media.push_back({copper});
    }
    winding.conductor = winding.ring_conductor = {0.003, 0.001, copper};
  }
  [[nodiscard]] LoadedCoil solve() const {
    const Mesh mesh = generate_mesh(section, Sizing{}.scaled(0.6));
    EddySystem system(mesh, media);
    return solve_loaded_coil(system, winding, f);
  }
};

// Property: rings solved alone and coupled give what the field of all together gives: close rings,
// one beyond the end of the bar, uneven gaps. Both are within 5e-4 of the truth on such meshes
// (tests/convergence), so 1e-3.
TEST(RingResponse, IsTheFieldOfAllTogether) {
  const std::vector<double> heights{-0.012, -0.0055, 0.001, 0.010, 0.026};
  const Whole whole(heights);
  const Sizing sizing = Sizing{}.scaled(0.6);
  const RingAnswer ring = ring_answer({{0.019, 0}, 0.003, 0.002}, {copper}, f, sizing);
  const FieldAnswer bar =
      body_answer({whole.section.regions.front()}, {{}, {aluminium}}, f, sizing, 0.006);
  std::vector<PlacedRing> rings;
  rings.reserve(heights.size());
  for (const double z : heights) rings.push_back({&ring, z, 1.0});
  const LoadedCoil fast = loaded_coil(whole.winding, solve_rings(rings, &bar, f));
  const LoadedCoil full = whole.solve();
  EXPECT_NEAR(fast.inductance / full.inductance, 1, 1e-3);
  EXPECT_NEAR(fast.reflected_resistance / full.reflected_resistance, 1, 1e-3);
  EXPECT_NEAR(fast.conductor_resistance / full.conductor_resistance, 1, 1e-3);
  EXPECT_NEAR(fast.dc_resistance / full.dc_resistance, 1, 1e-3);
  EXPECT_NEAR(fast.energy / full.energy, 1, 1e-3);
  for (std::size_t k = 0; k < heights.size(); ++k) {
    EXPECT_NEAR(fast.turn_loss[k] / full.turn_loss[k], 1, 2e-3) << k;
    EXPECT_NEAR(std::abs(fast.turn_voltage[k] / full.turn_voltage[k] - 1.0), 0, 2e-3) << k;
  }
  // The parts are the whole: losses of rings and bar against the resistance at the terminals.
  EXPECT_NEAR(
      (fast.conductor_resistance + fast.reflected_resistance) / fast.series.impedance.real(), 1,
      1e-6);
}

// Property: the rectangle round bodies has every corner of them in it, of a ball or a bead too.
TEST(RingResponse, DistanceIsToTheRectangleRoundAll) {
  const std::vector<SectionRegion> bodies{
      {"bar", rectangle({0, -0.02}, {0.010, 0.02}), depth(aluminium)},
      {"bead", Disc{{0.012, 0.03}, 0.004, 0.001}, depth(aluminium)}};
  EXPECT_DOUBLE_EQ(distance_to(bodies, {0.020, 0.0}), 0.004);
  EXPECT_DOUBLE_EQ(distance_to(bodies, {0.001, 0.035}), 0.001);
  EXPECT_DOUBLE_EQ(distance_to(bodies, {0.019, -0.024}), 0.005);
  EXPECT_EQ(distance_to(bodies, {0.015, 0.033}), 0.0);
  const std::vector<SectionRegion> bead{bodies[1]};
  EXPECT_DOUBLE_EQ(distance_to(bead, {0.012, 0.024}), 0.002);
}

}  // namespace
}  // namespace cw
