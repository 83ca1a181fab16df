#include "materials/units.hpp"

#include <gtest/gtest.h>
#include <unistd.h>

#include <atomic>
#include <clocale>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <thread>
#include <vector>

#include "materials/library.hpp"

namespace cw {
namespace {

using D = Dimension;

// Property: quantities read in many threads at once are those read in one.
TEST(Units, ReadsInManyThreads) {
  std::atomic<int> wrong = 0;
  const auto read = [&] {
    for (int k = 0; k < 3000; ++k) {
      const auto volts = parse_quantity("250 V", D::voltage).value;
      const auto flow = parse_quantity("1.5 L/min", D::flow).value;
      if (!volts || *volts != 250.0 || !flow || std::abs(*flow - 25e-6) > 1e-12) ++wrong;
    }
  };
  std::vector<std::thread> threads;
  for (int k = 0; k < 4; ++k) threads.emplace_back(read);
  for (std::thread& thread : threads) thread.join();
  EXPECT_EQ(wrong, 0);
}

struct Good {
  const char* text;
  D dimension;
  double si;
};

// What a maker writes is read into SI. Exact factors: SI Brochure 9th ed. (2019) prefixes and
// litre, minute, hour; inch 25.4 mm, foot 0.3048 m and pound 0.45359237 kg by the international
// yard and pound agreement (1959); psi from them.
TEST(Units, reads_what_a_maker_writes) {
  const Good rows[] = {
      {"25 mm", D::length, 0.025},
      {"25mm", D::length, 0.025},
      {" -3.5e-1  cm ", D::length, -0.0035},
      {"1/4 inch", D::length, 0.00635},
      {"3/16 in", D::length, 0.0047625},
      {"1 1/8 in", D::length, 0.028575},
      {"1/4\"", D::length, 0.00635},
      {"2 ft", D::length, 0.6096},
      {"25 \xC2\xB5m", D::length, 25e-6},
      {"0.4 mohm", D::resistance, 4e-4},
      {"5 m\xCE\xA9", D::resistance, 5e-3},
      {"0.17 uohm m", D::resistivity, 1.7e-7},
      {"17 \xC2\xB5\xCE\xA9\xC2\xB7"
       "cm",
       D::resistivity, 1.7e-7},
      {"0.02 ohm mm2/m", D::resistivity, 2e-8},
      {"20 degC", D::temperature, 293.15},
      {"68 degF", D::temperature, 293.15},
      {"20 \xC2\xB0"
       "C",
       D::temperature, 293.15},
      {"300 K", D::temperature, 300.0},
      {"36 degF", D::temperature_difference, 20.0},
      {"15 degC", D::temperature_difference, 15.0},
      {"0.5 L/min", D::flow, 0.5e-3 / 60.0},
      {"2 kWh", D::energy, 7.2e6},
      {"1 Wh", D::energy, 3600.0},
      {"3 kvar", D::power, 3000.0},
      {"5 var", D::power, 5.0},
      {"5 min", D::time, 300.0},
      {"50 W/(m K)", D::thermal_conductivity, 50.0},
      {"50 W m-1 K-1", D::thermal_conductivity, 50.0},
      {"0.46 kJ/(kg K)", D::heat_capacity, 460.0},
      {"7.85 g/cm\xC2\xB3", D::density, 7850.0},
      {"2 kA/m", D::field_strength, 2000.0},
      {"63 nH/turn2", D::inductance_per_turn2, 63e-9},
      {"30 psi", D::pressure, 30.0 * 0.45359237 * 9.80665 / (0.0254 * 0.0254)},
      {"5 %", D::number, 0.05},
      {"0.8", D::number, 0.8},
  };
  for (const Good& row : rows) {
    const Parsed parsed = parse_quantity(row.text, row.dimension);
    ASSERT_TRUE(parsed.value) << row.text << ": " << parsed.complaint;
    EXPECT_NEAR(*parsed.value, row.si, 1e-12 * std::abs(row.si)) << row.text;
  }
}

// Every dimension's own example and SI unit are accepted, so that no message recommends something
// that is refused.
TEST(Units, accepts_its_own_examples) {
  for (int i = 0; i <= static_cast<int>(D::number); ++i) {
    const auto d = static_cast<D>(i);
    EXPECT_TRUE(parse_quantity(example(d), d).value) << example(d);
    if (d == D::number) continue;
    const Parsed one = parse_quantity("1 " + std::string(si_unit(d)), d);
    ASSERT_TRUE(one.value) << si_unit(d);
    EXPECT_DOUBLE_EQ(*one.value, 1.0) << si_unit(d);
  }
}

// For a bare number the message says what was found, what is allowed and what to write.
TEST(Units, bare_number_shows_how_to_write_it) {
  const Parsed parsed = parse_quantity("25", D::length);
  EXPECT_FALSE(parsed.value);
  EXPECT_EQ(parsed.complaint,
            "found \"25\" without a unit; allowed: a length in mm, cm, m, um, km, in, ft; write "
            "\"25 mm\"");
}

// Texts that only look right are refused: other units (are, tonne, petametre), reciprocals, commas,
// non-finite numbers, grammar that the database would stretch to fit.
TEST(Units, refuses_what_only_looks_right) {
  const std::pair<const char*, D> rows[] = {
      {"40 a", D::length},
      {"5 t", D::mass},
      {"5 Pm", D::length},
      {"25 kg", D::length},
      {"25 m^2", D::length},
      {"2,5 mm", D::length},
      {"1 000 mm", D::length},
      {"inf m", D::length},
      {"nan m", D::length},
      {"1e400 m", D::length},
      {"1e308 km", D::length},
      {"1/0 mm", D::length},
      {"m", D::length},
      {"", D::length},
      {"mm 25", D::length},
      {"25 mm;", D::length},
      {"0x10 mm", D::length},
      {"20 us", D::frequency},
      {"2 W/K", D::thermal_resistance},
      {"20 C", D::temperature},
      {"-300 degC", D::temperature},
      {"50 W/mK", D::thermal_conductivity},
      {"460 J/kgK", D::heat_capacity},
      {"5 s))", D::time},
      {"5 (((s", D::time},
      {"5 ///s", D::frequency},
      {"5 ()", D::length},
      {"5 mm", D::number},
      {"5 m m", D::length},
      {"20 mm2 3", D::length},
  };
  for (const auto& [text, dimension] : rows) {
    const Parsed parsed = parse_quantity(text, dimension);
    EXPECT_FALSE(parsed.value) << text;
    EXPECT_NE(parsed.complaint.find("found"), std::string::npos) << text;
    EXPECT_NE(parsed.complaint.find("write"), std::string::npos) << text;
  }
  EXPECT_FALSE(parse_quantity(std::string(100000, '('), D::length).value);
}

// A mistyped unit is mended in the message, and the mended text is accepted.
TEST(Units, suggests_the_nearest_unit) {
  struct Row {
    const char *text, *write;
    D dimension;
  };
  const Row rows[] = {{"25 mmm", "25 mm", D::length},
                      {"5 Ohm", "5 ohm", D::resistance},
                      {"60 kHZ", "60 kHz", D::frequency},
                      {"2 UF", "2 uF", D::capacitance},
                      {"20 C", "20 degC", D::temperature},
                      {"20 degc", "20 degC", D::temperature},
                      {"0.17 uOhm m", "0.17 uohm m", D::resistivity},
                      {"460 J/kgK", "460 J/(kg K)", D::heat_capacity}};
  for (const Row& row : rows) {
    const Parsed parsed = parse_quantity(row.text, row.dimension);
    ASSERT_FALSE(parsed.value) << row.text;
    EXPECT_TRUE(parsed.complaint.ends_with("write \"" + std::string(row.write) + "\""))
        << parsed.complaint;
    EXPECT_TRUE(parse_quantity(row.write, row.dimension).value) << row.write;
  }
}

// The decimal sign is a point under a locale that writes commas, and the unit database is still
// read.
TEST(Units, reads_the_same_under_a_comma_locale) {
  const std::filesystem::path locales =
      std::filesystem::path(testing::TempDir()) / ("locales_" + std::to_string(::getpid()));
  std::filesystem::create_directories(locales);
  const std::string make =
      "localedef -i de_DE -f UTF-8 " + (locales / "de_DE.UTF-8").string() + " > /dev/null 2>&1";
  const bool made = std::system(make.c_str()) == 0;
  ::setenv("LOCPATH", locales.c_str(), 1);
  const char* set = made ? std::setlocale(LC_ALL, "de_DE.UTF-8") : nullptr;
  ::unsetenv("LOCPATH");
  std::filesystem::remove_all(locales);
  if (!made) GTEST_SKIP() << "the package locales is not installed";
  ASSERT_NE(set, nullptr);
  ASSERT_STREQ(std::localeconv()->decimal_point, ",");
  const Parsed parsed = parse_quantity("0.17 uohm m", D::resistivity);
  const Parsed refused = parse_quantity("2,5 mm", D::length);
  const double emissivity = find_material("copper-tube").emissivity.value;
  std::setlocale(LC_ALL, "C");
  ASSERT_TRUE(parsed.value) << parsed.complaint;
  EXPECT_NEAR(*parsed.value, 1.7e-7, 1e-19);
  EXPECT_FALSE(refused.value);
  EXPECT_EQ(emissivity, 0.1);
}

}  // namespace
}  // namespace cw
