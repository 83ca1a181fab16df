// Sections of the page about cooling, parts wound and mounted, first power-up, sources.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "materials/law.hpp"
#include "postproc/report/report.hpp"
#include "tests/unit/postproc/sample_case.hpp"
#include "tests/unit/postproc/sample_cooling.hpp"

namespace cw {
namespace {

Result with_parts() {
  Result r = sample::full_result();
  r.cooling = sample::wet();
  PartsResult parts;
  parts.junction = JunctionResult{};
  parts.junction->loss = 5.17;
  parts.junction->junction = Temperature::celsius(43.3);
  parts.path.push_back({"<busbar>", 118, 176e-6, 2.47, 0, 32.9, 78.1, 0.0312, "cold"});
  DutyResult duty;
  duty.part = "feed choke";
  duty.power = 8.83;
  duty.on = 317;
  duty.off = 911;
  duty.share = 0.412;
  duty.limit = Temperature::celsius(101);
  parts.duty.push_back(duty);
  r.parts = parts;
  r.commissioning = CommissioningResult{{{"empty_frequency", "Hz", 111e3, 104e3, 119e3}}};
  return r;
}

// A recalled value is marked so beside its source.
TEST(ReportParts, SourcesSayWhatWasRecalled) {
  Result r = sample::full_result();
  r.sources = {{"steel: resistivity", "Handbook", std::string(recalled_unchecked)}};
  const std::string page = report_page(r, {});
  EXPECT_NE(page.find("<li>steel: resistivity: Handbook (recalled, not checked)</li>"),
            std::string::npos);
}

// The page has every figure that a maker needs, in units of the trade.
TEST(ReportParts, ShowWhatOneActsOn) {
  const std::string page = report_page(with_parts(), {});
  for (const char* text :
       {"id=\"cooling\"", "340\u00a0W", "40.0\u00a0W", "1.00\u00a0L/min", "30.0\u00a0kPa",
        "70.0\u00a0K</data> below boiling", "40.0\u00a0s", "60.0\u00a0s", "id=\"built-parts\"",
        "5.17\u00a0W", "&lt;busbar&gt;", "32.9\u00a0K</data> above the air", "78.1\u00a0s",
        "317\u00a0s", "911\u00a0s", "id=\"commissioning\"", "111\u00a0kHz",
        "104\u00a0kHz to 119\u00a0kHz"})
    EXPECT_NE(page.find(text), std::string::npos) << text;
  EXPECT_EQ(page.find("<busbar>"), std::string::npos);
}

// Property: each string of cans takes two joints at its ends and one between two cans; what a joint
// carries is the current of the bank over its strings.
TEST(ReportParts, ListTheJointsOfTheBank) {
  Result r = sample::full_result();
  ASSERT_EQ(r.heater->tank->cans, 21);
  const auto cell = [](int count) { return fmt::format("<td>{}</td>", count); };
  const std::string side = report_page(r, {});
  EXPECT_NE(side.find("id=\"joints\""), std::string::npos);
  EXPECT_NE(side.find(cell(42)), std::string::npos);
  EXPECT_EQ(side.find("Can to can"), std::string::npos);
  r.heater->tank->cans_in_series = 3;
  const std::string strings = report_page(r, {});
  EXPECT_NE(strings.find("as 7 strings of 3 in series"), std::string::npos);
  const std::size_t between = strings.find("Can to can");
  ASSERT_NE(between, std::string::npos);
  EXPECT_LT(strings.find(cell(14), between) - between, 200U);
}

// Without their data the sections are not there.
TEST(ReportParts, AreLeftOutWithoutData) {
  const std::string page = report_page(sample::full_result(), {});
  for (const char* text : {"id=\"cooling\"", "id=\"built-parts\"", "id=\"commissioning\""})
    EXPECT_EQ(page.find(text), std::string::npos) << text;
}

}  // namespace
}  // namespace cw
