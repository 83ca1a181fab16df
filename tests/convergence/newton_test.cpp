// Newton's method on saturating bars of every magnetic metal, for all currents, frequencies and
// temperatures of a heater.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>

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

struct NewtonMetal {
  Material material;
  EffectiveReluctivity law;
  Temperature temperature;
  double share = 0.0;

  NewtonMetal(const std::string& name, double curie_share)
      : material(find_material(name)),
        law(flux_curve(material), PermeabilityLaw::rms),
        temperature(Temperature::celsius(
            20 + curie_share * (material.magnetisation->curie.in_celsius() - 20))),
        share(magnetisation_share(*material.magnetisation, temperature)) {}
};

Bar bar_of(const NewtonMetal& metal, Frequency f, double current) {
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

/// A solved bar; fails the test if it did not converge or its losses are not its power.
NewtonReport settled(const NewtonMetal& metal, Frequency f, double current) {
  const Bar bar = bar_of(metal, f, current);
  const Mesh mesh = generate_mesh(bar.section, for_saturation(Sizing{}.scaled(1.4)));
  const EddySystem system(mesh, bar.media);
  const NonlinearCoil coil =
      solve_saturating(system, {{1, &metal.law, metal.share, {}}}, f, {bar.turns, current});
  EXPECT_TRUE(coil.report.converged);
  double loss = 0;
  for (const double part : region_losses(mesh, coil.field)) loss += part;
  // A flux guide hardly conducts: the loss is the copper's, and the terminals give it as a small
  // part of the apparent power of a coil of high Q.
  const bool guide = metal.material.conductivity(metal.temperature) < 1e3;
  const double apparent = std::norm(coil.current) * std::abs(coil.impedance);
  EXPECT_NEAR(loss, std::norm(coil.current) * coil.impedance.real(),
              1e-6 * (guide ? apparent : loss));
  return coil.report;
}

struct Figures {
  std::vector<int> all;
  void add(int n) { all.push_back(n); }
  int median() {
    std::sort(all.begin(), all.end());
    return all[all.size() / 2];
  }
  int most() { return *std::max_element(all.begin(), all.end()); }
};

/// Steps, factorisations and back-solves of many solves.
struct Cost {
  Figures steps, factorisations, back_solves;
  void add(const NewtonReport& r) {
    steps.add(r.steps);
    factorisations.add(r.factorisations);
    back_solves.add(r.back_solves);
  }
  void print(const std::string& of) {
    std::printf("| %s | %zu | %d (%d) | %d (%d) | %d (%d) |\n", of.c_str(), steps.all.size(),
                steps.median(), steps.most(), factorisations.median(), factorisations.most(),
                back_solves.median(), back_solves.most());
  }
};

void print_head() {
  std::printf(
      "| metal, share of the way to its Curie point | solves | steps, median (most) | "
      "factorisations | back-solves |\n|---|---|---|---|---|\n");
}

// Property: five metals, six currents, four frequencies, four temperatures all converge at moderate
// cost, and the loss in all regions is the power at the terminals. Prints the cost of each.
TEST(Newton, SettlesForEveryMetalCurrentFrequencyAndTemperature) {
  Cost all;
  print_head();
  for (const char* name :
       {"steel-low-carbon", "steel-high-carbon", "nickel", "stainless-430", "cast-iron-grey"})
    for (const double curie_share : {0.0, 0.5, 0.9, 0.995}) {
      const NewtonMetal metal(name, curie_share);
      Cost here;
      for (const double hz : {1e3, 2e4, 1e5, 5e5})
        for (const double current : {1.0, 10.0, 100.0, 300.0, 1000.0, 2000.0}) {
          SCOPED_TRACE(testing::Message()
                       << name << " " << curie_share << " " << hz << " Hz " << current << " A");
          const NewtonReport report = settled(metal, {hz}, current);
          here.add(report);
          all.add(report);
        }
      here.print(std::string(name) + ", " + std::to_string(curie_share).substr(0, 5));
    }
  all.print("all");
  EXPECT_LE(all.factorisations.median(), 8);
}

// Property: every other magnetic material of the library converges too, including flux guides.
TEST(Newton, SettlesForEveryMagneticMaterialOfTheLibrary) {
  int materials = 0;
  print_head();
  for (const std::string& name : material_names()) {
    if (!find_material(name).magnetisation) continue;
    ++materials;
    for (const double curie_share : {0.0, 0.95}) {
      const NewtonMetal metal(name, curie_share);
      Cost here;
      for (const double hz : {1e3, 5e5})
        for (const double current : {1.0, 200.0, 2000.0}) {
          SCOPED_TRACE(testing::Message()
                       << name << " " << curie_share << " " << hz << " Hz " << current << " A");
          here.add(settled(metal, {hz}, current));
        }
      here.print(name + ", " + std::to_string(curie_share).substr(0, 4));
    }
  }
  EXPECT_GE(materials, 10);
}

}  // namespace
}  // namespace cw
