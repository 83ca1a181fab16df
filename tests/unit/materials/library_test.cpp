#include "materials/library.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace cw {
namespace {

constexpr double none = std::numeric_limits<double>::quiet_NaN();
constexpr std::array<double, 8> at_celsius = {20, 200, 400, 600, 735, 800, 1000, 1200};

struct Row {
  const char* material;
  Law Material::*property;
  std::array<double, 8>
      value;  ///< SI, at `at_celsius`; none where the sources have no value or only neighbours
};

// Values as the sources named beside them in materials/data state them (tables), or evaluated from
// the closed forms of EN 1993-1-2:2005 3.4.1.2, 3.4.1.3 and Annex C, EN 1999-1-2:2007 3.3.1.2 and
// the NIST Shomate sets, rounded to five digits.
const Row rows[] = {
    {"steel-low-carbon",
     &Material::resistivity,
     {1.69e-07, 2.92e-07, 4.88e-07, 7.58e-07, none, 1.094e-06, 1.167e-06, 1.219e-06}},
    {"steel-low-carbon",
     &Material::thermal_conductivity,
     {53.334, 47.34, 40.68, 34.02, 29.524, 27.3, 27.3, 27.3}},
    {"steel-low-carbon",
     &Material::heat_capacity,
     {439.8, 529.76, 605.88, 760.22, 5000, 803.26, 650, 650}},
    {"steel-medium-carbon",
     &Material::resistivity,
     {1.71e-07, 2.96e-07, 4.93e-07, 7.66e-07, none, 1.111e-06, 1.179e-06, 1.23e-06}},
    {"steel-medium-carbon",
     &Material::thermal_conductivity,
     {53.334, 47.34, 40.68, 34.02, 29.524, 27.3, 27.3, 27.3}},
    {"steel-medium-carbon",
     &Material::heat_capacity,
     {439.8, 529.76, 605.88, 760.22, 5000, 803.26, 650, 650}},
    {"steel-high-carbon",
     &Material::resistivity,
     {1.8e-07, 3.08e-07, 5.05e-07, 7.72e-07, none, 1.129e-06, 1.191e-06, 1.231e-06}},
    {"steel-high-carbon", &Material::thermal_conductivity, {49, 45, 38, 33, none, 24, 27, 30}},
    {"steel-high-carbon",
     &Material::heat_capacity,
     {439.8, 529.76, 605.88, 760.22, 5000, 803.26, 650, 650}},
    {"iron-pure",
     &Material::resistivity,
     {9.61e-08, none, none, 6.9e-07, none, 1.06e-06, 1.15e-06, 1.2e-06}},
    {"iron-pure",
     &Material::heat_capacity,
     {447.37, 520.37, 607, 779.21, 1043.1, 1125.9, 620.08, 650.05}},
    {"cast-iron-grey",
     &Material::resistivity,
     {7.5e-07, 8.9e-07, 1.08e-06, 1.31e-06, 1.43e-06, 1.48e-06, 1.56e-06, none}},
    {"cast-iron-grey",
     &Material::thermal_conductivity,
     {46, 47.5, 45.5, none, none, none, none, none}},
    {"cast-iron-grey", &Material::heat_capacity, {460, 500, 560, 660, 1500, none, 700, none}},
    {"cast-iron-ductile",
     &Material::resistivity,
     {5.2e-07, 6.5e-07, 8.3e-07, 1.06e-06, 1.19e-06, 1.24e-06, 1.33e-06, none}},
    {"cast-iron-ductile",
     &Material::thermal_conductivity,
     {34, none, none, none, none, none, none, none}},
    {"cast-iron-ductile", &Material::heat_capacity, {480, 515, 570, 660, 1500, none, 700, none}},
    {"stainless-304",
     &Material::resistivity,
     {7.25e-07, 8.61e-07, 9.76e-07, 1.075e-06, none, 1.1493e-06, 1.1982e-06, 1.2394e-06}},
    {"stainless-304",
     &Material::thermal_conductivity,
     {14.854, 17.14, 19.68, 22.22, 23.934, 24.76, 27.3, 29.84}},
    {"stainless-430",
     &Material::resistivity,
     {5.6e-07, 6.8e-07, 8.5e-07, 1.03e-06, none, 1.15e-06, none, none}},
    {"stainless-430", &Material::thermal_conductivity, {24, 24, 26, none, none, none, none, none}},
    {"stainless-430", &Material::heat_capacity, {460, none, 610, 770, none, none, none, none}},
    {"aluminium-pure",
     &Material::resistivity,
     {2.65e-08, none, none, none, none, none, none, none}},
    {"aluminium-1050",
     &Material::resistivity,
     {2.813e-08, none, none, none, none, none, none, none}},
    {"aluminium-1050",
     &Material::thermal_conductivity,
     {229, 228, 222, 212, none, none, none, none}},
    {"aluminium-1050", &Material::heat_capacity, {none, 985, 1067, none, none, none, none, none}},
    {"aluminium-6061-t6",
     &Material::resistivity,
     {3.99e-08, none, none, none, none, none, none, none}},
    {"aluminium-6061-t6",
     &Material::thermal_conductivity,
     {167, 180, 190, none, none, none, none, none}},
    {"aluminium-6061-t6",
     &Material::heat_capacity,
     {911.2, 985, 1067, none, none, none, none, none}},
    {"copper-tube", &Material::resistivity, {2.028e-08, none, none, none, none, none, none, none}},
    {"brass-c26000",
     &Material::resistivity,
     {6.16e-08, 8.06e-08, 1.02e-07, 1.23e-07, none, 1.48e-07, none, none}},
    {"brass-c26000", &Material::thermal_conductivity, {121, 137, 147, 150, none, none, none, none}},
    {"brass-c26000", &Material::heat_capacity, {377, none, none, none, none, none, none, none}},
    {"titanium-pure",
     &Material::resistivity,
     {5e-07, 7.6e-07, 1.06e-06, 1.31e-06, none, 1.49e-06, 1.42e-06, 1.47e-06}},
    {"titanium-pure",
     &Material::heat_capacity,
     {525.03, 577.46, 605.91, 629.39, 673.41, 703.29, 628.21, 666.12}},
    {"titanium-6al4v",
     &Material::resistivity,
     {1.7e-06, 1.78e-06, 1.85e-06, 1.88e-06, none, 1.88e-06, 1.7e-06, 1.7e-06}},
    {"titanium-6al4v",
     &Material::thermal_conductivity,
     {none, 8.75, 11.4, 14.2, none, 17.8, none, 22.9}},
    {"titanium-6al4v", &Material::heat_capacity, {none, 584, 629, 673, none, 714, none, 680}},
    {"nickel",
     &Material::heat_capacity,
     {440.18, 515.59, 632.77, 535.08, 549.52, 557.48, 584.48, 614.41}},
    {"graphite",
     &Material::resistivity,
     {1.3e-05, 1.118e-05, 9.88e-06, 9.36e-06, 9.295e-06, 9.36e-06, 9.88e-06, 1.053e-05}},
    {"graphite", &Material::thermal_conductivity, {110, 95, 78, 65, none, 55, 47, 42}},
    {"graphite", &Material::heat_capacity, {693, 1162, 1488, 1678, 1764, 1797, 1876, 1933}},
    {"silver", &Material::resistivity, {1.587e-08, none, none, none, none, none, none, none}},
};

// Every material of the library loads without a complaint, is found under its file's name, and has
// positive, finite properties at 20 degC with a source and a provenance to each.
TEST(Library, every_material_is_complete) {
  const auto names = material_names();
  EXPECT_GE(names.size(), 29U);
  EXPECT_TRUE(std::is_sorted(names.begin(), names.end()));
  const Temperature t = Temperature::celsius(20.0);
  for (const std::string& name : names) {
    const Material m = find_material(name);
    EXPECT_EQ(m.name, name);
    EXPECT_FALSE(m.title.empty()) << name;
    EXPECT_GT(m.density.value, 0.0) << name;
    EXPECT_GT(m.initial_permeability(t), 0.9) << name;
    EXPECT_EQ(m.relative_permeability.value == 1.0 || !m.magnetisation, true) << name;
    for (const Law* law : {&m.resistivity, &m.thermal_conductivity, &m.heat_capacity}) {
      const double value = (*law)(t);
      EXPECT_GT(value, 0.0) << name;
      if (law != &m.resistivity || !m.insulator()) {
        EXPECT_TRUE(std::isfinite(value)) << name;
      }
    }
    for (const Law* law : {&m.thermal_conductivity, &m.heat_capacity}) {
      ASSERT_FALSE(law->sources.empty()) << name;
      for (const Source& source : law->sources) {
        EXPECT_NE(source.text, "not stated") << name;
        EXPECT_TRUE(source.provenance == "read" || source.provenance == recalled_unchecked) << name;
      }
    }
    for (const Sourced* value : {&m.density, &m.emissivity})
      EXPECT_NE(value->source.text, "not stated") << name;
    EXPECT_TRUE(name == "air" || m.emissivity.value > 0.0) << name;
    if (m.melting) {
      EXPECT_GT(m.melting->latent, 5e4) << name;
    }
  }
}

// Every metal states a band for each law and for its emissivity, and a range of temperatures of its
// data; so do the flux guides, whose values are constants.
TEST(Library, every_metal_states_band_and_range) {
  int metals = 0, magnetic = 0;
  for (const std::string& name : material_names()) {
    const Material m = find_material(name);
    if (m.insulator()) continue;
    for (const Law* law : {&m.resistivity, &m.thermal_conductivity, &m.heat_capacity}) {
      EXPECT_GT(law->uncertainty, 0.0) << name;
      ASSERT_FALSE(law->sources.empty()) << name;
      if (law->highest == law->lowest) continue;  // a constant
      EXPECT_TRUE(law->covers({law->lowest})) << name;
      EXPECT_FALSE(law->covers({law->lowest - 1.0})) << name;
      EXPECT_FALSE(law->covers({law->highest + 1.0})) << name;
    }
    EXPECT_LT(m.emissivity.low, m.emissivity.high) << name;
    ++metals;
    if (!m.magnetisation) continue;
    ++magnetic;
    EXPECT_LT(m.magnetisation->saturation.low, m.magnetisation->saturation.high) << name;
    EXPECT_LT(m.magnetisation->half_field.low, m.magnetisation->half_field.high) << name;
    EXPECT_GT(m.magnetisation->curie.in_celsius(), 20.0) << name;
    EXPECT_FALSE(m.magnetisation->saturation.source.text.empty()) << name;
  }
  EXPECT_GE(metals, 15);
  EXPECT_GE(magnetic, 5);
}

// Properties at the temperatures the sources tabulate or define are those of the sources, to the
// digits given.
TEST(Library, values_are_those_of_the_sources) {
  int compared = 0;
  for (const Row& row : rows) {
    const Material m = find_material(row.material);
    for (std::size_t i = 0; i < at_celsius.size(); ++i) {
      if (std::isnan(row.value[i])) continue;
      const double value = (m.*row.property)(Temperature::celsius(at_celsius[i]));
      EXPECT_NEAR(value, row.value[i], 6e-5 * row.value[i])
          << row.material << " at " << at_celsius[i];
      ++compared;
    }
  }
  EXPECT_GT(compared, 200);
}

// A mistyped name is answered with the nearest one and the list.
TEST(Library, unknown_name_suggests_the_nearest) {
  try {
    (void)find_material("steel-hig-carbon");
    FAIL() << "found a material that does not exist";
  } catch (const MaterialError& error) {
    const std::string text = error.what();
    EXPECT_NE(text.find("write \"steel-high-carbon\""), std::string::npos) << text;
    EXPECT_NE(text.find("copper-tube"), std::string::npos) << text;
  }
}

// Work-coil tube is not pure copper: 85 % of IACS, that is 0.017241/0.85 uohm m at 20 degC (IEC
// 60028 for 100 %, from memory).
TEST(Library, copper_tube_is_85_per_cent_iacs) {
  const Temperature t = Temperature::celsius(20.0);
  EXPECT_NEAR(find_material("copper-tube").resistivity(t), 17.241e-9 / 0.85, 0.01e-9);
}

}  // namespace
}  // namespace cw
