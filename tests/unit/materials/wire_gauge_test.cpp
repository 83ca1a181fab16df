#include "materials/wire_gauge.hpp"

#include <gtest/gtest.h>

namespace cw {
namespace {

double gauge_mm(std::string_view text) {
  const Parsed parsed = parse_gauge(text);
  EXPECT_TRUE(parsed.value) << parsed.complaint;
  return 1e3 * parsed.value.value_or(0.0);
}

// Property: American gauges have the diameters of the standard's table, to its last digit.
// Source: ASTM B258, diameters in inches rounded to 0.1 mil (4/0 and 36 define the series), as
// printed in handbooks: 4/0 0.4600, 1/0 0.3249, 4 0.2043, 12 0.0808, 18 0.0403, 36 0.0050, 40
// 0.00314.
TEST(WireGauge, HasTheDiametersOfTheAmericanTable) {
  const double half = 0.05e-3 * 25.4;  // of the last digit [mm]
  EXPECT_NEAR(gauge_mm("AWG 4/0"), 0.4600 * 25.4, 1e-9);
  EXPECT_NEAR(gauge_mm("AWG 1/0"), 0.3249 * 25.4, half);
  EXPECT_NEAR(gauge_mm("AWG 4"), 0.2043 * 25.4, half);
  EXPECT_NEAR(gauge_mm("AWG 12"), 0.0808 * 25.4, half);
  EXPECT_NEAR(gauge_mm("AWG 18"), 0.0403 * 25.4, half);
  EXPECT_NEAR(gauge_mm("AWG 36"), 0.0050 * 25.4, 1e-9);
  EXPECT_NEAR(gauge_mm("AWG 40"), 0.00314 * 25.4, half / 10);
}

// Property: British gauges have the diameters of the standard's table.
// Source: BS 3737:1964 in millimetres, as printed in handbooks: 7/0 12.700, 3/0 9.449, 1 7.620, 10
// 3.251, 14 2.032, 20 0.914, 30 0.315, 40 0.122, 50 0.025.
TEST(WireGauge, HasTheDiametersOfTheBritishTable) {
  const double half = 0.5e-3;
  EXPECT_NEAR(gauge_mm("SWG 7/0"), 12.700, half);
  EXPECT_NEAR(gauge_mm("SWG 3/0"), 9.449, half);
  EXPECT_NEAR(gauge_mm("SWG 1"), 7.620, half);
  EXPECT_NEAR(gauge_mm("SWG 10"), 3.251, half);
  EXPECT_NEAR(gauge_mm("SWG 14"), 2.032, half);
  EXPECT_NEAR(gauge_mm("SWG 20"), 0.914, half);
  EXPECT_NEAR(gauge_mm("SWG 30"), 0.315, half);
  EXPECT_NEAR(gauge_mm("SWG 40"), 0.122, half);
  EXPECT_NEAR(gauge_mm("SWG 50"), 0.025, half);
}

// Property: in both series every number is thinner than the one before it, so none is missing.
TEST(WireGauge, FallsFromNumberToNumber) {
  for (const std::string series : {"AWG ", "SWG "}) {
    double last = gauge_mm(series + "4/0");
    for (int n = -2; n <= 50; ++n) {
      const double next =
          gauge_mm(series + (n < 1 ? std::to_string(1 - n) + "/0" : std::to_string(n)));
      EXPECT_LT(next, last) << series << n;
      EXPECT_GT(next, 0.7 * last) << series << n;
      last = next;
    }
  }
}

// Property: all spellings of a gauge have the same meaning.
TEST(WireGauge, IsReadInEveryUsualSpelling) {
  for (const std::string_view text : {"AWG 12", "awg12", " 12 AWG ", "12awg"})
    EXPECT_DOUBLE_EQ(gauge_mm(text), gauge_mm("AWG 12")) << text;
  for (const std::string_view text : {"AWG 4/0", "4/0 AWG", "AWG 0000"})
    EXPECT_DOUBLE_EQ(gauge_mm(text), gauge_mm("AWG 4/0")) << text;
  for (const std::string_view text : {"SWG 0", "SWG 1/0"})
    EXPECT_DOUBLE_EQ(gauge_mm(text), gauge_mm("SWG 1/0")) << text;
}

// Property: lengths and other texts are not taken for gauges; gauges spelled wrongly are.
TEST(WireGauge, KnowsWhatNamesAGauge) {
  EXPECT_TRUE(names_gauge("AWG 12"));
  EXPECT_TRUE(names_gauge("swg"));
  EXPECT_FALSE(names_gauge("2 mm"));
  EXPECT_FALSE(names_gauge(""));
}

// Property: for a gauge outside the tables the message gives the range; no diameter is returned.
TEST(WireGauge, RefusesWhatTheTablesDoNotHold) {
  for (const std::string_view text :
       {"AWG", "AWG 57", "AWG 5/0", "AWG -3", "AWG 0/0", "AWG 12.5", "AWG /0", "AWG 1/2", "SWG 8/0",
        "SWG 51", "SWG 99999999999", "AWG 12 mm", "AWG twelve"})
    EXPECT_FALSE(parse_gauge(text).value) << text;
  EXPECT_EQ(parse_gauge("AWG 60").complaint,
            "found \"AWG 60\"; allowed: AWG 4/0 (11.68 mm) to AWG 56 (0.01249 mm); write for "
            "example \"AWG 12\", or the diameter as in \"2 mm\"");
  EXPECT_EQ(parse_gauge("SWG 8/0").complaint,
            "found \"SWG 8/0\"; allowed: SWG 7/0 (12.7 mm) to SWG 50 (0.0254 mm); write for "
            "example \"SWG 14\", or the diameter as in \"2 mm\"");
  const std::string page = "AWG " + std::string(5000, '1');
  EXPECT_LT(parse_gauge(page).complaint.size(), 200U);
}

}  // namespace
}  // namespace cw
