// Sections of the page about cooling, parts wound and mounted, first power-up.
#include <gtest/gtest.h>

#include "postproc/report/report.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace cw {
namespace {

Result with_parts() {
  Result r = sample::full_result();
  CoolingResult c;
  c.at_state = "cold";
  c.coil_loss = 341;
  c.lead_loss = 43.7;
  c.from_work = 21.9;
  c.tube_length = 2.31;
  WaterCooling w;
  w.flow = 0.87e-3 / 60;
  w.inlet = Temperature::celsius(19);
  w.outlet = Temperature::celsius(26.7);
  w.wall_hottest = Temperature::celsius(31.4);
  w.boiling_margin = 68.6;
  w.pressure_drop = 31.3e3;
  w.no_flow_to_boiling = 41.9;
  w.no_flow_to_solder = 63.2;
  c.water = w;
  r.cooling = c;
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

// Every figure a maker acts on stands in the page, in units of the trade.
TEST(ReportParts, ShowWhatOneActsOn) {
  const std::string page = report_page(with_parts(), {});
  for (const char* text :
       {"id=\"cooling\"", "341\u00a0W", "43.7\u00a0W", "0.870\u00a0l/min", "31.3\u00a0kPa",
        "68.6\u00a0K below boiling", "41.9\u00a0s", "63.2\u00a0s", "id=\"built-parts\"",
        "5.17\u00a0W", "&lt;busbar&gt;", "32.9\u00a0K above the air", "78.1\u00a0s", "317\u00a0s",
        "911\u00a0s", "id=\"commissioning\"", "111\u00a0kHz", "104\u00a0kHz to 119\u00a0kHz"})
    EXPECT_NE(page.find(text), std::string::npos) << text;
  EXPECT_EQ(page.find("<busbar>"), std::string::npos);
}

// Without their data the sections are not there.
TEST(ReportParts, AreLeftOutWithoutData) {
  const std::string page = report_page(sample::full_result(), {});
  for (const char* text : {"id=\"cooling\"", "id=\"built-parts\"", "id=\"commissioning\""})
    EXPECT_EQ(page.find(text), std::string::npos) << text;
}

}  // namespace
}  // namespace cw
