#include "postproc/chart/charts_of_result.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "postproc/picture/letters.hpp"
#include "postproc/report/report_charts.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

std::size_t lines_in(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

// Property: the stack of every state is its total power, so no part is left out of the chart.
TEST(Charts, PowersStackUpToTheTotal) {
  const cw::Result result = cw::sample::full_result();
  const auto chart = cw::powers_chart(result);
  ASSERT_TRUE(chart);
  ASSERT_EQ(chart->categories.size(), result.states.size());
  double sum = 0.0;
  for (const auto& series : chart->series) sum += series.y[0];
  EXPECT_NEAR(sum, result.states[0].power.sum(), 1e-9);
}

// Property: the chart of the demand shows the supply's limit in the colour of limits, and the scale
// includes it.
TEST(Charts, DemandShowsTheLimit) {
  const auto chart = cw::demand_chart(cw::sample::full_result());
  ASSERT_TRUE(chart);
  const auto mark = std::find_if(chart->marks.begin(), chart->marks.end(),
                                 [](const cw::ChartMark& m) { return m.limit; });
  ASSERT_NE(mark, chart->marks.end());
  EXPECT_EQ(mark->value, 32.7);
  EXPECT_GE(chart->y_span().high, 47.6);
  EXPECT_EQ(chart->y_span().low, 0.0);
}

// Property: a result without what a chart shows has no such chart, and an empty one has none.
TEST(Charts, LeavesOutEmptyCharts) {
  EXPECT_TRUE(cw::charts_of({}).empty());
  EXPECT_FALSE(cw::demand_chart(cw::sample::result()));
  EXPECT_FALSE(cw::limits_chart(cw::sample::result()));
  EXPECT_EQ(cw::charts_of(cw::sample::full_result()).size(), 11U);
}

// Property: no value beside a bar is written over the line of the limit: what would lie there stands
// inside its bar.
TEST(Charts, ValuesOfBarsKeepClearOfTheLimit) {
  cw::Result result;
  for (const double share : {0.01, 0.4, 0.66, 0.75, 0.889, 0.95, 0.99, 1.01, 1.58}) {
    cw::LimitResult limit;
    limit.part = "a part";
    limit.fraction = share;
    result.limits.push_back(limit);
  }
  const auto chart = cw::limits_chart(result);
  ASSERT_TRUE(chart);
  const cw::Canvas drawing = cw::chart_drawing(*chart);
  double line = 0.0;
  int values = 0;
  for (const auto& item : drawing.items) {
    const auto* word = std::get_if<cw::Written>(&item);
    if (word != nullptr && word->text == "limit") line = word->at.x - 5.0;
    if (word == nullptr || !word->text.ends_with(" %")) continue;
    ASSERT_GT(line, 0.0) << "values are written after the marks";
    ++values;
    const double width = cw::text_width(word->text, word->style);
    const double left = word->style.anchor == cw::Anchor::end ? word->at.x - width : word->at.x;
    EXPECT_FALSE(left < line && line < left + width) << word->text;
  }
  EXPECT_EQ(values, 9);
}

// Property: if the target belongs to another body than the workpiece, the chart shows the
// temperatures of that body, and its title names it; without its temperatures, those of the
// workpiece.
TEST(Charts, HeatingDrawsTheBodyOfTheTarget) {
  cw::Result result = cw::sample::full_result();
  cw::HeatResult& heat = *result.heat;
  heat.target_of = "charge";
  heat.bodies = {{"workpiece", {}}, {"charge", {}}};
  heat.lines.resize(2);
  for (cw::HeatLine& line : heat.lines)
    line.bodies = {{1000.0, 1100.0, 900.0, {}}, {600.0, 610.0, 590.0, {}}};
  const auto chart = cw::heating_chart(result);
  ASSERT_TRUE(chart);
  EXPECT_EQ(chart->title, "Temperature of the charge");
  ASSERT_GE(chart->series.size(), 3U);
  for (const auto& [k, kelvin] : {std::pair{0, 610.0}, {1, 600.0}, {2, 590.0}})
    EXPECT_NEAR(chart->series[k].y[1], kelvin - 273.15, 1e-9) << chart->series[k].name;
  heat.lines[1].bodies.clear();
  EXPECT_EQ(cw::heating_chart(result)->title, "Temperature of the workpiece");
}

// Property: earlier lines are wider than those over them, so none is hidden where they run
// together.
TEST(Charts, LinesUnderOthersAreWider) {
  EXPECT_GT(cw::line_width(0, 3), cw::line_width(1, 3));
  EXPECT_GT(cw::line_width(1, 3), cw::line_width(2, 3));
  EXPECT_EQ(cw::line_width(0, 1), cw::line_width(2, 3));
}

// Property: the bar of a part with verdict `watch` is labelled so, whatever its fraction of the
// limit.
TEST(Charts, LimitsSayTheirVerdict) {
  cw::Result result = cw::sample::full_result();
  result.limits = {result.limits[0], result.limits[0]};
  for (cw::LimitResult& limit : result.limits) limit.fraction = 0.7;
  result.limits[0].verdict = cw::Verdict::watch;
  result.limits[1].verdict = cw::Verdict::ok;
  const auto chart = cw::limits_chart(result);
  EXPECT_EQ(chart->series[0].remarks, (std::vector<std::string>{"watch", ""}));
}

// Property: the table of a chart has one header line and a line for each place, full precision.
TEST(Charts, TablesHoldEveryDigit) {
  const auto chart = cw::frequency_chart(cw::sample::full_result());
  const std::string table = cw::chart_table(*chart);
  EXPECT_EQ(lines_in(table), 3U) << table;
  EXPECT_EQ(table.substr(0, table.find('\n')),
            "temperature of the workpiece [degC],frequency [kHz]");
  EXPECT_NE(table.find(",98.7\n"), std::string::npos) << table;
  cw::Chart unlike = *chart;
  unlike.series.push_back({"other", {1.0}, {2.5}, {}, {}, {}});
  EXPECT_NE(cw::chart_table(unlike).find("other,1,2.5\n"), std::string::npos);
}

// Property: names from outside neither break a table nor leave the data of the page's script.
TEST(Charts, HostileNamesStayNames) {
  cw::Result result = cw::sample::result();
  result.states[0].power.bodies = {{"</script><b>\",&", 12.0}};
  const auto chart = cw::powers_chart(result);
  EXPECT_NE(cw::chart_table(*chart).find("\"</script><b>\"\",& [W]\""), std::string::npos)
      << cw::chart_table(*chart);
  const std::string page = cw::chart_figure(chart);
  const std::size_t start = page.find("<script type=\"application/json\">") + 32;
  const std::string data = page.substr(start, page.find("</script>", start) - start);
  EXPECT_EQ(data.find('<'), std::string::npos);
  EXPECT_EQ(nlohmann::json::parse(data)["series"][1]["name"], "</script><b>\",&");
}

// Property: every word of a chart stays on its sheet, with twenty limits and with long names too.
TEST(Charts, LetteringStaysOnTheSheet) {
  cw::Result result = cw::sample::full_result();
  for (int i = 0; i < 20; ++i) result.limits.push_back(result.limits[0]);
  result.limits.back().part = "gap between bare turns of the upper layer";
  int looked_at = 0;
  for (const cw::Chart& chart : cw::charts_of(result)) {
    const cw::Canvas canvas = cw::chart_drawing(chart);
    for (const auto& item : canvas.items) {
      const auto* written = std::get_if<cw::Written>(&item);
      if (written == nullptr || written->style.upright) continue;
      const double width = cw::text_width(written->text, written->style);
      const double back = written->style.anchor == cw::Anchor::start    ? 0.0
                          : written->style.anchor == cw::Anchor::middle ? 0.5
                                                                        : 1.0;
      EXPECT_GE(written->at.x - back * width, 0.0) << written->text;
      EXPECT_LE(written->at.x + (1.0 - back) * width, canvas.width) << written->text;
      EXPECT_LE(written->at.y, canvas.height) << written->text;
      ++looked_at;
    }
  }
  EXPECT_GT(looked_at, 20);
}

/// Position of the name of the only mark of a chart.
cw::Written mark_name(const cw::Chart& chart) {
  for (const auto& item : cw::chart_drawing(chart).items)
    if (const auto* written = std::get_if<cw::Written>(&item))
      if (written->text == chart.marks.front().name) return *written;
  return {};
}

// Property: the name of a limit is above its right end; below it if a line is there; further left
// if another line is there too.
TEST(Charts, NamesOfLimitsKeepClearOfLines) {
  cw::Chart chart;
  chart.series.push_back(cw::line_series(0, "low"));
  chart.series[0].x = {0.0, 10.0};
  chart.series[0].y = {0.0, 4.0};
  chart.marks.push_back({"limit 10 A", 10.0, false, true});
  const cw::Spot usual = mark_name(chart).at;
  chart.series[0].y = {10.2, 10.2};
  const cw::Spot under = mark_name(chart).at;
  EXPECT_EQ(under.x, usual.x);
  EXPECT_GT(under.y, usual.y + 10.0);
  chart.series.push_back(cw::line_series(1, "through"));
  for (cw::ChartSeries& series : chart.series) series.x = {0.0, 8.0, 8.01, 10.0};
  chart.series[0].y = {4.0, 4.0, 9.8, 9.8};
  chart.series[1].y = {4.0, 4.0, 10.2, 10.2};
  EXPECT_LT(mark_name(chart).at.x, usual.x - 20.0);
}

}  // namespace
