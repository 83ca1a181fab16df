#include "postproc/report/report_markup.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <string>

namespace cw {
namespace {

std::string mm(const std::string& metres, const std::string& digits) {
  return fmt::format("<data class=\"m\" value=\"{}\">{}\u00a0mm</data>", metres, digits);
}

// Property: quantities in a sentence become markup, similar text does not, commands become code,
// and everything else is escaped.
TEST(ShownSentence, MarksQuantitiesAndCommands) {
  EXPECT_EQ(shown_sentence("gap 9 mm."), fmt::format("gap {}.", mm("0.009", "9")));
  EXPECT_EQ(shown_sentence("-3.5 mm"), mm("-0.0035", "-3.5"));
  EXPECT_EQ(shown_sentence("1.2.5 mm"), "1." + mm("0.0025", "2.5"));
  EXPECT_EQ(shown_sentence("to 20 degC"),
            "to <data class=\"K\" value=\"293.15\">20\u00a0\u00b0C</data>");
  EXPECT_EQ(shown_sentence("0.3 m at 2 m/s"),
            "<data class=\"m\" value=\"0.3\">0.3\u00a0m</data> at "
            "<data class=\"v\" value=\"2\">2\u00a0m/s</data>");
  EXPECT_EQ(shown_sentence("by 15 K"), "by <data class=\"dK\" value=\"15\">15\u00a0K</data>");
  EXPECT_EQ(shown_sentence("3 uH, 4 mohm"), "3\u00a0\u00b5H, 4\u00a0m\u03a9");
  for (const char* plain : {"9 mmx", "9 mm2", "9 mm/s", "9mm", "mm 9", "9 K/W", "9 u", "9 ", "-",
                            "9.", "a-b", "", "3 uHz"})
    EXPECT_EQ(shown_sentence(plain), plain);
  EXPECT_EQ(shown_sentence("`run a` and `b"), "<code>run a</code> and `b");
  EXPECT_EQ(shown_sentence("`a < b` `c`"), "<code>a &lt; b</code> <code>c</code>");
  EXPECT_EQ(shown_sentence("`9 mm`"), fmt::format("`{}`", mm("0.009", "9")));
  EXPECT_EQ(shown_sentence("<b> & 9 mm"), "&lt;b&gt; &amp; " + mm("0.009", "9"));
}

// Property: length is no danger, neither to the stack nor in time: a million letters, digits and
// backquotes each.
TEST(ShownSentence, IsLinearInItsLength) {
  for (const char letter : {'x', '7', '`', '-', '.'}) {
    const std::string text(1000000, letter);
    EXPECT_GE(shown_sentence(text + " 9 mm").size(), text.size());
  }
}

// Property: a difference of temperatures is another quantity than a temperature, with its kelvins.
TEST(Shown, DifferencesAreNotTemperatures) {
  EXPECT_EQ(shown_difference(12.34), "<data class=\"dK\" value=\"12.34\">12.3\u00a0K</data>");
  EXPECT_EQ(shown_change(11.6), "<data class=\"dK\" value=\"11.6\">+12\u00a0K</data>");
  EXPECT_EQ(shown_warming(1.2), "<data class=\"rK\" value=\"1.2\">1.20\u00a0K/s</data>");
}

// Property: a unit from a result file stays text.
TEST(Shown, EscapesItsUnit) {
  EXPECT_EQ(shown(1.0, "<b>").find('<'), std::string::npos);
}

}  // namespace
}  // namespace cw
