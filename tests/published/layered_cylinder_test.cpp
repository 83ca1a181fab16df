// Stranded turns round long rods, pipes and rods of two metals over the sizes, skin depths and
// permeabilities of heaters: power and change of inductance on the default mesh compared with the
// integrals of Dodd, Deeds and Cheng for any number of layers (reference/layered_cylinder.hpp,
// error below 1e-8). Impedances are the same for rms and peak.
#include <gtest/gtest.h>

#include <algorithm>
#include <exception>
#include <string>
#include <vector>

#include "tests/published/check.hpp"
#include "tests/published/solve_for_check.hpp"

namespace cw::published {
namespace {

using reference::Layer;

/// A row of the tables. Lengths in mm, conductivities in MS/m.
struct CylinderRow {
  std::string what;
  std::vector<Layer> layers;  ///< from the axis outwards
  RingsOfCheck rings;
  double hertz;
  double beyond = 6.0;  ///< how far the rod goes on beyond the turns, in their inner radii
};

CylinderRow in_si(CylinderRow row) {
  for (Layer& layer : row.layers) {
    layer.outer *= 1e-3;
    layer.conductivity *= 1e6;
  }
  for (double* x : {&row.rings.inner, &row.rings.width, &row.rings.height, &row.rings.pitch}) {
    *x *= 1e-3;
  }
  return row;
}

/// Turns of the inner radius given [mm]: a tenth of it wide, 0.16 of it high and 0.2 of it apart.
RingsOfCheck turns(double inner, int count) {
  return {inner, .1 * inner, .16 * inner, .2 * inner, count};
}

double half_length(const CylinderRow& row) {
  const double wound = row.rings.pitch * (row.rings.count - 1) + row.rings.height;
  return 0.5 * wound + row.beyond * row.rings.inner;
}

/// The layers that are not air, as regions.
void add_layers(Section& section, Media& media, const CylinderRow& row) {
  double inner = 0.0;
  for (const Layer& layer : row.layers) {
    if (layer.conductivity > 0 || layer.mu_r != 1) {
      section.regions.push_back(
          {"layer." + std::to_string(section.regions.size() + 1),
           rectangle({inner, -half_length(row)}, {layer.outer, half_length(row)})});
      media.push_back({layer.conductivity, 1 / (mu0 * layer.mu_r)});
    }
    inner = layer.outer;
  }
}

/// Power, that in each of several layers, and change of inductance, within 1e-3. For a layer with
/// less than a tenth of the power the tolerance is 1e-4 of the total. The reference says whether
/// the rod is long enough to count as infinite: a magnetic one carries flux far beyond the turns.
void check_cylinder(const CylinderRow& given) {
  const CylinderRow row = in_si(given);
  SCOPED_TRACE(row.what);
  Section section;
  Media media(1);
  add_layers(section, media, row);
  const std::size_t bodies = section.regions.size();
  const TurnSet set = add_rings(section, media, rings_of(row.rings));
  const auto filaments = filaments_of(rings_of(row.rings));
  const auto exact = reference::filaments_round_layers(filaments, row.layers, row.hertz);
  EXPECT_LT(reference::share_beyond(filaments, row.layers, row.hertz, half_length(row)), 1e-4)
      << "the rod is too short to be endless";

  Checked found;
  try {
    found = solve_for_check(section, media, set, {row.hertz});
  } catch (const std::exception& error) {
    FAIL() << error.what();  // and on to the next row
  }
  std::vector<double> powers;
  for (std::size_t i = 0; i < row.layers.size(); ++i) {
    if (row.layers[i].conductivity > 0) powers.push_back(exact.power[i]);
  }
  ASSERT_EQ(powers.size(), bodies);
  const double all = exact.change.real();
  double power = 0.0;
  for (std::size_t i = 0; i < bodies; ++i) power += found.loss[i + 1];
  expect_relative(power, all, 1e-3);
  for (std::size_t i = 0; i < bodies && bodies > 1; ++i) {
    expect_within(found.loss[i + 1], powers[i], 1e-3 * std::max(powers[i], .1 * all));
  }
  const double w = 2 * reference::kPi * row.hertz;
  expect_within(found.change.imag() / w, exact.change.imag() / w,
                reactance_tolerance(exact.change) / w);
}

// Rods of 1 to 200 mm in coils 5 to 20 times as wide: the rod hardly changes the field of the
// turns, and in magnetic metal its own field is far above it. Source: C. V. Dodd & W. E. Deeds,
// Analytical solutions to eddy-current probe-coil problems, J. Appl. Phys. 39 (1968) 2829 (form
// from memory), for one layer; evaluated from the closed form (layered_cylinder.hpp).
TEST(LayeredCylinder, SlenderRodsInWideCoils) {
  for (const CylinderRow& row : std::vector<CylinderRow>{
           {"1 mm copper in 20 mm", {{.5, 58}}, turns(10, 3), 100e3},
           {"1 mm steel, mu 700, in 20 mm", {{.5, 5, 700}}, turns(10, 3), 20e3, 8},
           {"1 mm steel, mu 100, in 10 mm", {{.5, 5, 100}}, turns(5, 3), 200e3, 8},
           {"6 mm steel, mu 700, in 50 mm", {{3, 5, 700}}, turns(25, 3), 20e3, 8},
           {"6 mm steel, mu 2000, in 120 mm", {{3, 5, 2000}}, turns(60, 1), 1e3, 10},
           {"6 mm stainless in 30 mm", {{3, 1.4}}, turns(15, 5), 20e3},
           {"50 mm copper in 500 mm", {{25, 58}}, turns(250, 3), 3e3},
           {"50 mm steel, mu 20, in 1 m", {{25, 5, 20}}, turns(500, 1), 200},
           {"200 mm steel, mu 2000, in 4 m", {{100, 5, 2000}}, turns(2000, 3), 50},
           {"200 mm copper in 1 m", {{100, 58}}, turns(500, 3), 10e3},
           {"20 mm steel, mu 2000, in 100 mm", {{10, 5, 2000}}, turns(50, 4), 50, 25}}) {
    check_cylinder(row);
  }
}

// Rods of 1 to 200 mm in coils 1.1 to 3 times as wide, from a third of a skin depth to 444 of them
// in the radius, permeability 1 to 2000. Source: C. V. Dodd & W. E. Deeds, Analytical solutions to
// eddy-current probe-coil problems, J. Appl. Phys. 39 (1968) 2829 (form from memory), for one
// layer; evaluated from the closed form.
TEST(LayeredCylinder, RodsInCloseCoils) {
  for (const CylinderRow& row : std::vector<CylinderRow>{
           {"1 mm copper in 1.1 mm", {{.5, 58}}, turns(.55, 5), 500e3},
           {"1 mm graphite in 1.1 mm", {{.5, .1}}, turns(.55, 5), 1e6},
           {"1 mm steel, mu 100, in 2 mm", {{.5, 5, 100}}, turns(1, 5), 100e3, 15},
           {"6 mm steel, mu 50, in 6.6 mm", {{3, 5, 50}}, turns(3.3, 8), 10e3, 15},
           {"20 mm aluminium in 40 mm", {{10, 35}}, turns(20, 3), 10e3},
           {"20 mm steel, mu 200, in 26 mm", {{10, 5, 200}}, turns(13, 5), 3e3, 15},
           {"20 mm hot steel in 30 mm", {{10, .9}}, turns(15, 5), 10e3},
           {"20 mm steel, mu 2000, in 22 mm", {{10, 5, 2000}}, turns(11, 1), 50e3, 15},
           {"50 mm brass in 55 mm", {{25, 16}}, turns(27.5, 6), 50},
           {"50 mm steel, mu 100, in 150 mm", {{25, 5, 100}}, turns(75, 4), 1e3, 8},
           {"100 mm aluminium in 120 mm", {{50, 35}}, turns(60, 10), 50},
           {"100 mm steel, mu 500, in 120 mm", {{50, 5, 500}}, turns(60, 3), 500, 15},
           {"200 mm steel, mu 40, in 220 mm", {{100, 5, 40}}, turns(110, 3), 10e3},
           {"200 mm hot steel in 300 mm", {{100, .9}}, turns(150, 3), 50}}) {
    check_cylinder(row);
  }
}

// Pipes with bores of 2 to 98 % of the diameter, walls of a tenth of a skin depth to 25 of them.
// Source: C. V. Dodd, C. C. Cheng & W. E. Deeds, Induction coils coaxial with an arbitrary number
// of cylindrical conductors, J. Appl. Phys. 45 (1974) 638 (from memory); evaluated from the closed
// form.
TEST(LayeredCylinder, Pipes) {
  for (const CylinderRow& row : std::vector<CylinderRow>{
           {"20 mm copper, bore 2 %", {{.2}, {10, 58}}, turns(12, 4), 2e3},
           {"20 mm stainless, bore 50 %", {{5}, {10, 1.4}}, turns(15, 4), 50e3},
           {"20 mm copper, bore 98 %", {{9.8}, {10, 58}}, turns(20, 4), 1e3},
           {"20 mm steel, mu 300, bore 98 %", {{9.8}, {10, 5, 300}}, turns(20, 4), 5e3, 10},
           {"20 mm steel, mu 2000, bore 60 %", {{6}, {10, 5, 2000}}, turns(12, 4), 1e3, 40},
           {"6 mm steel, mu 700, bore 80 %", {{2.4}, {3, 5, 700}}, turns(30, 3), 20e3, 8},
           {"100 mm steel, mu 100, bore 90 %", {{45}, {50, 5, 100}}, turns(55, 5), 1e3, 8},
           {"100 mm stainless, bore 98 %", {{49}, {50, 1.4}}, turns(55, 5), 10e3},
           {"200 mm aluminium, bore 95 %", {{95}, {100, 35}}, turns(300, 3), 50}}) {
    check_cylinder(row);
  }
}

// Rods of two metals: copper plated on steel, steel on copper, and a rod inside a pipe with air
// between them; the power of each metal. Source: C. V. Dodd, C. C. Cheng & W. E. Deeds, Induction
// coils coaxial with an arbitrary number of cylindrical conductors, J. Appl. Phys. 45 (1974) 638
// (from memory); evaluated from the closed form, powers from the flow through each face.
TEST(LayeredCylinder, TwoMetals) {
  for (const CylinderRow& row : std::vector<CylinderRow>{
           {"copper on steel, mu 200", {{9.5, 5, 200}, {10, 58}}, turns(15, 4), 10e3},
           {"steel, mu 100, on copper", {{20, 58}, {25, 5, 100}}, turns(50, 3), 200, 10},
           {"aluminium in a steel pipe, mu 50",
            {{8, 35}, {9}, {10, 5, 50}},
            turns(13, 4),
            1e3,
            15}}) {
    check_cylinder(row);
  }
}

}  // namespace
}  // namespace cw::published
