#include "postproc/text/heat_advice.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "postproc/report/report_markup.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

bool any(const std::vector<std::string>& texts, const std::string& part) {
  return std::any_of(texts.begin(), texts.end(),
                     [&](const std::string& text) { return text.find(part) != std::string::npos; });
}

}  // namespace

// A heater that stalls is told so first, with how far it falls short, and what would help.
TEST(HeatAdvice, Stall) {
  const cw::Result result = cw::sample::full_result();  // stalls at 687 of 823 degC
  EXPECT_EQ(cw::heat_verdict_words(result),
            "No: heating stops at 687 degC, 136 K short of the 823 degC wanted (coldest), however "
            "long it is left in.");
  const auto advice = cw::heat_advice(result);
  EXPECT_TRUE(any(advice, "Raise the supply from"));
  EXPECT_TRUE(any(advice, "Bring the coil closer"));
  EXPECT_TRUE(any(advice, "ceramic fibre"));
}

// Loss grows with the fourth power of temperature, power with the square of the voltage: from 687
// to 823 degC the loss grows by (1096.15^4 - 293.15^4) / (960.15^4 - 293.15^4) = 1.704 (closed
// form, Stefan-Boltzmann law), so 36 V must become at least 36 sqrt(1.704) = 47 V.
TEST(HeatAdvice, VoltageThatWouldDo) {
  cw::Result result = cw::sample::full_result();
  std::get<cw::PushPullDrive>(result.heater->drive).supply = 36.0;
  // As much goes in at the target as where it stops.
  std::erase_if(result.states, [](const cw::StateResult& s) { return s.name == "at_target"; });
  const auto advice = cw::heat_advice(result);
  EXPECT_TRUE(any(advice, "some 70 % more power"));
  EXPECT_TRUE(any(advice, "from 36.0 V to at least some 50 V"));  // 5 % of margin, rounded up
}

// Reached: yes, and nothing to change. Time up while it still rises: more time.
TEST(HeatAdvice, ReachedOrTooShort) {
  cw::Result result = cw::sample::full_result();
  result.heat->reached = true;
  EXPECT_EQ(cw::heat_verdict_words(result).substr(0, 4), "Yes:");
  EXPECT_TRUE(cw::heat_advice(result).empty());
  result.heat->reached = false;
  result.heat->stall = cw::Temperature::celsius(900.0);
  ASSERT_GE(result.heat->lines.size(), 2U);
  result.heat->lines.front() = result.heat->lines.back();
  result.heat->lines.front().time = 0.9 * result.heat->lines.back().time;
  result.heat->lines.front().coldest -= 20.0;
  EXPECT_EQ(cw::heat_verdict_words(result).substr(0, 21), "Not in the time given");
  EXPECT_TRUE(any(cw::heat_advice(result), "more time"));
  EXPECT_TRUE(cw::heat_verdict_words(cw::sample::result()).empty());
}

// Temperatures and lengths in sentences turn to other units, units get their signs, the rest stays.
TEST(HeatAdvice, SentencesOnAPage) {
  EXPECT_EQ(cw::shown_sentence("from 20.0 degC, 9 mm <b>"),
            "from <data class=\"K\" value=\"293.15\">20.0\u00a0\u00b0C</data>, "
            "<data class=\"m\" value=\"0.009\">9\u00a0mm</data> &lt;b&gt;");
  EXPECT_EQ(cw::shown_sentence("1.65 uF, 4 mohm, 2 turns"),
            "1.65\u00a0\u00b5F, 4\u00a0m\u03a9, 2 turns");
}
