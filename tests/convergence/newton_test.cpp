// Newton's method on saturating bars of every magnetic metal, current, frequency and temperature a
// heater meets.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "materials/library.hpp"
#include "mesh/generate.hpp"
#include "solver/field/layering.hpp"
#include "solver/field/nonlinear_field.hpp"

namespace cw {
namespace {

/// A bar of 14 mm in eight turns.
struct Bar {
  Section section;
  Media media;
  TurnSet turns;
};

struct Metal {
  Material material;
  EffectiveReluctivity law;
  Temperature temperature;
  double share = 0.0;

  Metal(const std::string& name, double curie_share)
      : material(find_material(name)), law(flux_curve(material), PermeabilityLaw::rms) {
    const double curie = material.magnetisation->curie.in_celsius();
    temperature = Temperature::celsius(20 + curie_share * (curie - 20));
    share = magnetisation_share(*material.magnetisation, temperature);
  }
};

Bar bar_of(const Metal& metal, Frequency f, double current) {
  constexpr double copper = 50e6, pitch = 7.5e-3;
  Bar bar;
  bar.media.push_back({});
  bar.turns.kind = TurnKind::massive;
  const double field = solenoid_field(8 * current, 8 * pitch, 38e-3),
               sigma = metal.material.conductivity(metal.temperature);
  bar.section.regions.push_back({"workpiece", rectangle({0, -.08}, {.007, .08}),
                                 layering_skin_depth(metal.law, metal.share, sigma, f, field)});
  bar.media.push_back(
      {sigma, 1 / (mu0 * metal.law.relative_permeability(0.3 * field, metal.share))});
  for (int k = 0; k < 8; ++k) {
    bar.section.regions.push_back({"turn." + std::to_string(k + 1),
                                   Disc{{.019, (k - 3.5) * pitch}, .003, .002},
                                   skin_depth(copper, 1, f)});
    bar.media.push_back({copper, 1 / mu0});
    bar.turns.region.push_back(k + 2);
    bar.turns.weight.push_back(1.0);
  }
  return bar;
}

// Five metals, six currents, four frequencies, four temperatures: every one settles, none costs
// much, and the loss in all regions is the power at the terminals.
TEST(Newton, SettlesForEveryMetalCurrentFrequencyAndTemperature) {
  std::vector<int> factorisations, back_solves;
  for (const char* name :
       {"steel-low-carbon", "steel-high-carbon", "nickel", "stainless-430", "cast-iron-grey"})
    for (const double curie_share : {0.0, 0.5, 0.9, 0.995}) {
      const Metal metal(name, curie_share);
      for (const double hz : {1e3, 2e4, 1e5, 5e5})
        for (const double current : {1.0, 10.0, 100.0, 300.0, 1000.0, 2000.0}) {
          SCOPED_TRACE(testing::Message()
                       << name << " " << curie_share << " " << hz << " Hz " << current << " A");
          const Bar bar = bar_of(metal, {hz}, current);
          const Mesh mesh = generate_mesh(bar.section, for_saturation(Sizing{}.scaled(1.4)));
          const EddySystem system(mesh, bar.media);
          const NonlinearCoil coil = solve_saturating(system, {{1, &metal.law, metal.share, {}}},
                                                      {hz}, {bar.turns, false, current, 0.0});
          ASSERT_TRUE(coil.report.converged);
          double loss = 0;
          for (const double part : region_losses(mesh, coil.field)) loss += part;
          EXPECT_NEAR(loss, std::norm(coil.current) * coil.impedance.real(), 1e-6 * loss);
          factorisations.push_back(coil.report.factorisations);
          back_solves.push_back(coil.report.back_solves);
        }
    }
  std::sort(factorisations.begin(), factorisations.end());
  std::sort(back_solves.begin(), back_solves.end());
  EXPECT_LE(factorisations[factorisations.size() / 2], 8);
  std::printf("%zu solves: factorisations median %d, most %d; back-solves median %d, most %d\n",
              factorisations.size(), factorisations[factorisations.size() / 2],
              factorisations.back(), back_solves[back_solves.size() / 2], back_solves.back());
}

}  // namespace
}  // namespace cw
