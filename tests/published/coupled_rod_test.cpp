// Field and heat together in time against finite differences along the radius of an endless bar.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <sstream>

#include "materials/effective_permeability.hpp"
#include "materials/library.hpp"
#include "mesh/generate.hpp"
#include "solver/coupled/heating_run.hpp"
#include "solver/field/layering.hpp"
#include "tests/published/reference/coupled_rod.hpp"

namespace cw::published {
namespace {

constexpr double kBarRadius = 5e-3, kBarHeight = 1e-3, kCoilInner = 8e-3, kCoilOuter = 9e-3;
constexpr double kBarHertz = 50e3, kBarField = 30e3;  ///< at the bar's surface [A/m] rms

/// A slice of the bar inside an endless current sheet: the axial field inside is the current per
/// length, whatever the bar does.
struct HeatedSlice {
  Material steel = find_material("steel-high-carbon");
  EffectiveReluctivity law{flux_curve(steel), PermeabilityLaw::rms};
  Mesh mesh;
  std::unique_ptr<ThermalModel> heat;
  std::unique_ptr<HeatedCoil> coil;
  HeatingPlan plan;

  explicit HeatedSlice(double finer = 0.7, double edge = kBarRadius / 8) {
    Section section;
    section.domain = Box{kCoilOuter, 0, kBarHeight};
    const double sigma = steel.conductivity(Temperature::celsius(20));
    section.regions.push_back({"workpiece", rectangle({0, 0}, {kBarRadius, kBarHeight}),
                               layering_skin_depth(law, 1.0, sigma, {kBarHertz}, kBarField)});
    section.regions.back().largest_edge = edge;
    section.regions.push_back({"turn.1", rectangle({kCoilInner, 0}, {kCoilOuter, kBarHeight})});
    mesh = generate_mesh(section, for_saturation(Sizing{}.scaled(finer)));
    heat = std::make_unique<ThermalModel>(make_thermal_mesh(mesh, {{1, steel}}, {}),
                                          ThermalBoundary{});
    Winding winding;
    winding.turns = {TurnKind::uniform, {2}, {1.0}, {}};
    winding.radius = {0.5 * (kCoilInner + kCoilOuter)};
    winding.conductor = winding.ring_conductor = {0.5e-3, 0.0, 5.8e7};
    winding.strands = Bundle{100, 0.05e-3, 5.8e7, 1.02};
    HeatedField field{mesh,
                      {{}, {sigma, 1 / mu0}, {}},
                      winding,
                      {{1, steel, &law}},
                      FixedFrequency{{kBarHertz}, true, kBarField * kBarHeight},
                      {}};
    field.border = {false, false, false};
    coil = std::make_unique<HeatedCoil>(std::move(field), *heat);
    plan.workpiece = 1;
    plan.until = 14.0;
  }

  HeatingOutcome run(std::optional<HeatingState> from = std::nullopt) {
    return run_heating(*coil, *heat, plan, std::move(from), Temperature::celsius(20));
  }
};

reference::CoupledRod reference_rod(const Material& steel) {
  const auto at = [](double kelvin) { return Temperature{kelvin}; };
  const Magnetisation m = *steel.magnetisation;
  return {kBarRadius,
          kBarHertz,
          kBarField,
          293.15,
          [=](double t) { return steel.resistivity(at(t)); },
          [=](double t) { return steel.thermal_conductivity(at(t)); },
          [=](double t) { return steel.density.value * steel.heat_capacity(at(t)); },
          [=](double t) { return m.saturation_at(at(t)); },
          [=](double t) { return m.half_field_at(at(t)); }};
}

// Surface and centre of a long steel cylinder through its Curie point, the same field at its
// surface. Second method: within 1 % of the rise of independent finite differences over the whole
// run; no published source. The reference converges at first order: 0.3 % of the rise between 250
// and 500 cells.
TEST(CoupledRod, FollowsFiniteDifferencesThroughTheCuriePoint) {
  HeatedSlice slice;
  const HeatingOutcome run = slice.run();
  const auto exact = reference::heat_rod(reference_rod(slice.steel), 250, 0.01, slice.plan.until);
  EXPECT_GT(run.state.moments.back().centre, slice.steel.magnetisation->curie.kelvin + 20);
  double worst = 0.0;
  for (const HeatingMoment& m : run.state.moments) {
    if (m.time < 0.1) continue;
    const auto after =
        std::min<std::size_t>(exact.size() - 1, static_cast<std::size_t>(std::ceil(m.time / 0.01)));
    const auto& a = exact[after - 1];
    const auto& b = exact[after];
    const double share = (m.time - a.time) / (b.time - a.time);
    const double surface = a.surface + share * (b.surface - a.surface);
    const double centre = a.centre + share * (b.centre - a.centre);
    worst = std::max({worst, std::abs(m.surface - surface) / (surface - 293.15),
                      std::abs(m.centre - centre) / (surface - 293.15)});
  }
  EXPECT_LT(worst, 0.01);
  // Nothing is lost: all that was induced is stored.
  const double stored = slice.heat->stored(run.state.thermal.enthalpy) - run.state.thermal.at_start;
  EXPECT_NEAR(run.state.energy.at(0), stored, 1e-6 * stored);
}

// The time in which the rod is heated through hardly depends on the size of the triangles in which
// magnetism ends on its way inwards. Second method: within 1 % of the finite differences for edges
// from a third of the radius to a twentieth, with time steps as fine as those of the reference.
TEST(CoupledRod, TimeToHeatThroughDoesNotDependOnTheMesh) {
  constexpr double hot = 1093.0;  // [K], well past the Curie point
  const auto first_above = [](const auto& moments) {
    std::size_t i = 1;
    while (i + 1 < moments.size() && moments[i].centre < hot) ++i;
    const auto &a = moments[i - 1], &b = moments[i];
    return a.time + (hot - a.centre) / (b.centre - a.centre) * (b.time - a.time);
  };
  const double exact = first_above(
      reference::heat_rod(reference_rod(find_material("steel-high-carbon")), 500, 0.01, 14.0));
  for (const double edges_a_radius : {3.0, 6.0, 20.0}) {
    HeatedSlice slice(1.0, kBarRadius / edges_a_radius);
    slice.plan.tolerance /= 4;
    slice.plan.misplaced /= 4;
    slice.plan.heat_tolerance /= 4;
    const HeatingOutcome run = slice.run();
    EXPECT_GT(run.state.moments.back().centre, hot);
    EXPECT_NEAR(first_above(run.state.moments), exact, 0.01 * exact) << edges_a_radius;
  }
}

// Property: a run that is interrupted after any update, stored, read back into a new program and
// resumed ends in the same state to the last bit.
TEST(CoupledRod, ContinuesFromAStoredStateToTheSameBits) {
  HeatedSlice whole;
  whole.plan.until = 3.0;
  const HeatingOutcome uninterrupted = whole.run();
  for (const int stop_at : {1, 3, 6}) {
    HeatedSlice first;
    first.plan.until = 3.0;
    first.plan.stop = [stop_at](const HeatingState& s) { return s.updates > stop_at; };
    const HeatingOutcome part = first.run();
    ASSERT_EQ(part.end, HeatingEnd::interrupted);
    std::stringstream stored;
    write_state(stored, part.state);
    HeatedSlice second;
    second.plan.until = 3.0;
    const HeatingOutcome rest = second.run(read_state(stored));
    EXPECT_EQ(rest.state.thermal.enthalpy, uninterrupted.state.thermal.enthalpy);
    ASSERT_EQ(rest.state.moments.size(), uninterrupted.state.moments.size());
    EXPECT_EQ(rest.state.moments.back().induced_W, uninterrupted.state.moments.back().induced_W);
    EXPECT_EQ(rest.state.energy, uninterrupted.state.energy);
  }
  std::stringstream damaged("half a file");
  EXPECT_THROW(read_state(damaged), std::runtime_error);
}

// Property: with a tolerance four times as tight no temperature changes by more than 0.5 % of the
// rise.
TEST(CoupledRod, IntervalsAreShortEnough) {
  HeatedSlice usual, tight;
  tight.plan.tolerance /= 4;
  tight.plan.misplaced /= 4;
  tight.plan.heat_tolerance /= 4;
  const HeatingMoment a = usual.run().state.moments.back(), b = tight.run().state.moments.back();
  EXPECT_NEAR(a.surface, b.surface, 0.005 * (b.surface - 293.15));
  EXPECT_NEAR(a.centre, b.centre, 0.005 * (b.surface - 293.15));
}

}  // namespace
}  // namespace cw::published
