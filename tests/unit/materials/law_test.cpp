#include "materials/law.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "materials/law_builder.hpp"
#include "materials/library.hpp"

namespace cw {
namespace {

Temperature celsius(double t) {
  return Temperature::celsius(t);
}

/// Midpoint rule, fine enough for 1e-7 of these laws: a second way to the closed integrals.
double by_steps(const Law& law, Temperature a, Temperature b) {
  constexpr int steps = 400000;
  const double h = (b.kelvin - a.kelvin) / steps;
  double sum = 0.0;
  for (int i = 0; i < steps; ++i) sum += law(Temperature{a.kelvin + (i + 0.5) * h});
  return sum * h;
}

// A table is exact at its points, linear between them and constant beyond its ends, where `covers`
// is false.
TEST(Law, table_interpolates_and_holds_its_ends) {
  Law law{Table{{300.0, 400.0, 600.0}, {1.0, 3.0, 2.0}}, 300.0, 600.0, 0.0, {}};
  EXPECT_DOUBLE_EQ(law({300.0}), 1.0);
  EXPECT_DOUBLE_EQ(law({350.0}), 2.0);
  EXPECT_DOUBLE_EQ(law({400.0}), 3.0);
  EXPECT_DOUBLE_EQ(law({600.0}), 2.0);
  EXPECT_DOUBLE_EQ(law({100.0}), 1.0);
  EXPECT_DOUBLE_EQ(law({900.0}), 2.0);
  EXPECT_TRUE(law.covers({600.0}));
  EXPECT_FALSE(law.covers({601.0}));
  EXPECT_FALSE(law.covers({299.0}));
}

// The integral of a table is the sum of its trapezoids and of the held ends, and changes sign with
// its limits.
TEST(Law, table_integral_is_exact) {
  Law law{Table{{300.0, 400.0, 600.0}, {1.0, 3.0, 2.0}}, 300.0, 600.0, 0.0, {}};
  EXPECT_NEAR(law.integral({300.0}, {600.0}), 200.0 + 500.0, 1e-10);
  EXPECT_NEAR(law.integral({200.0}, {700.0}), 100.0 + 700.0 + 200.0, 1e-10);
  EXPECT_NEAR(law.integral({350.0}, {400.0}), 125.0, 1e-10);
  EXPECT_NEAR(law.integral({600.0}, {300.0}), -700.0, 1e-10);
}

// A constant holds everywhere, also as a table of one point.
TEST(Law, constant_holds_everywhere) {
  Law constant;
  constant.shape = 5.0;
  EXPECT_TRUE(constant.covers({5000.0}));
  EXPECT_DOUBLE_EQ(constant({10.0}), 5.0);
  EXPECT_DOUBLE_EQ(constant.integral({10.0}, {20.0}), 50.0);
  Law point{Table{{300.0}, {5.0}}, 300.0, 300.0, 0.0, {}};
  EXPECT_DOUBLE_EQ(point({900.0}), 5.0);
  EXPECT_DOUBLE_EQ(point.integral({200.0}, {400.0}), 1000.0);
}

// Carbon steel stores the enthalpy of EN 1993-1-2:2005 3.4.1.2, its c(T) peak included; figures in
// kJ/kg from 20 degC evaluated from the closed forms of that clause.
TEST(Law, carbon_steel_enthalpy_matches_en_1993_1_2) {
  const Law c = find_material("steel-low-carbon").heat_capacity;
  const std::pair<double, double> rows[] = {{400, 201.344}, {600, 335.738}, {735, 475.428},
                                            {800, 561.601}, {900, 632.064}, {1000, 697.064},
                                            {1200, 827.064}};
  for (const auto& [t, expected] : rows) {
    EXPECT_NEAR(c.integral(celsius(20.0), celsius(t)) / 1000.0, expected, 6e-4) << t;
  }
  EXPECT_NEAR(c(celsius(735.0)), 5000.0, 1e-9);
}

// In every form of piece the closed integral agrees with a fine sum over the law itself.
TEST(Law, closed_integrals_agree_with_a_fine_sum) {
  for (const char* name :
       {"steel-low-carbon", "iron-pure", "titanium-pure", "nickel", "copper-pure"}) {
    const Law c = find_material(name).heat_capacity;
    const Temperature a = celsius(10.0), b = celsius(1300.0);
    const double exact = c.integral(a, b);
    EXPECT_NEAR(by_steps(c, a, b), exact, 2e-5 * exact) << name;
  }
}

// Titanium's change at 893 degC adds its 87 kJ/kg once and only near that temperature.
// Source: Cezairliyan and Miiller 1978, J. Res. NBS 83(2) 127: 4170 J/mol at 1166 K.
TEST(Law, latent_heat_of_a_transformation_is_inside_the_enthalpy) {
  const Material titanium = find_material("titanium-pure");
  ASSERT_EQ(titanium.transformations.size(), 1U);
  const Law& c = titanium.heat_capacity;
  const double through = c.integral(celsius(885.0), celsius(901.0));
  const double beside = 8.0 * (c(celsius(885.0)) + c(celsius(901.0)));
  EXPECT_NEAR(through - beside, 87e3, 0.01 * 87e3);
  EXPECT_LT(c(celsius(887.9)), 1000.0);
  EXPECT_GT(c(celsius(893.0)), 8700.0);
}

// Tables of several sources merge into one law sorted by temperature, with the widest band and all
// sources.
TEST(LawBuilder, merges_tables_sorted) {
  const std::vector<LawBlock> blocks = {
      {Table{{300.0, 500.0}, {1.0, 3.0}}, 0.02, {"a", "read"}},
      {Table{{400.0}, {5.0}}, 0.10, {"b", "recalled, not checked"}}};
  std::string complaint;
  const auto law = join(blocks, complaint);
  ASSERT_TRUE(law) << complaint;
  EXPECT_DOUBLE_EQ((*law)({400.0}), 5.0);
  EXPECT_DOUBLE_EQ((*law)({450.0}), 4.0);
  EXPECT_DOUBLE_EQ(law->uncertainty, 0.10);
  EXPECT_EQ(law->sources.size(), 2U);
}

// Points of a table continue a formula beyond its ends with straight lines; inside its range they
// are refused.
TEST(LawBuilder, table_continues_a_formula) {
  const LawBlock formula{
      std::vector<Piece>{{273.15, 373.15, Piece::Form::polynomial, {10.0, 0.1}}}, 0.0, {}};
  std::string complaint;
  const auto law = join({formula, {Table{{473.15}, {40.0}}, 0.0, {}}}, complaint);
  ASSERT_TRUE(law) << complaint;
  EXPECT_NEAR((*law)(celsius(100.0)), 20.0, 1e-12);
  EXPECT_NEAR((*law)(celsius(150.0)), 30.0, 1e-9);
  EXPECT_NEAR((*law)(celsius(200.0)), 40.0, 1e-9);
  EXPECT_FALSE(join({formula, {Table{{300.0}, {40.0}}, 0.0, {}}}, complaint));
  EXPECT_NE(complaint.find("inside the range"), std::string::npos);
}

// Pieces that leave a gap, a temperature stated twice and a constant beside a table are refused
// with a sentence.
TEST(LawBuilder, refuses_contradictions) {
  std::string complaint;
  const auto flat = [](double from, double to) {
    return Piece{from, to, Piece::Form::polynomial, {1.0}};
  };
  EXPECT_FALSE(join({{std::vector<Piece>{flat(300, 400), flat(410, 500)}, 0.0, {}}}, complaint));
  EXPECT_NE(complaint.find("pieces that meet"), std::string::npos);
  EXPECT_FALSE(join({{Table{{300}, {1}}, 0.0, {}}, {Table{{300}, {2}}, 0.0, {}}}, complaint));
  EXPECT_NE(complaint.find("twice"), std::string::npos);
  EXPECT_FALSE(join({{1.0, 0.0, {}}, {Table{{300}, {2}}, 0.0, {}}}, complaint));
  EXPECT_NE(complaint.find("constant"), std::string::npos);
}

}  // namespace
}  // namespace cw
