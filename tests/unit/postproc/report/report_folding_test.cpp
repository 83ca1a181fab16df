// The sections of the page on its first screen, and those that are folded.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "postproc/picture/canvas.hpp"
#include "postproc/report/report.hpp"
#include "tests/unit/postproc/sample_case.hpp"

namespace {

std::vector<cw::ReportPicture> solid_picture_of_nothing() {
  cw::Canvas canvas;
  canvas.width = canvas.height = 100.0;
  return {{"solid-cold", cw::svg_of(canvas)}};
}

// Property: verdict, recipe and cautions are not folded and come before the first folded section;
// limits and all others are folded, and each contains an anchor that a link can open.
TEST(Report, FoldsAllButTheAnswer) {
  const std::string page = cw::report_page(cw::sample::full_result(), solid_picture_of_nothing());
  const std::size_t folded = page.find("<details>\n<summary><h2");
  for (const char* id : {"verdict", "recipe", "care"}) {
    const std::size_t at = page.find(fmt::format("<section id=\"{}\"", id));
    ASSERT_NE(at, std::string::npos) << id;
    EXPECT_LT(at, folded) << id;
  }
  for (const char* id : {"limits", "heat", "power", "states", "cautions", "recipe-card"}) {
    const std::size_t at = page.find(fmt::format("<div class=\"inside\" id=\"{}\">", id));
    ASSERT_NE(at, std::string::npos) << id;
    EXPECT_LT(page.rfind("<details>", at), at) << id;
  }
}

// Property: the recipe card, printed by itself, says that the coil is live, and refers to local
// rules.
TEST(Report, CardSaysItsCautions) {
  const std::string page = cw::report_page(cw::sample::full_result(), solid_picture_of_nothing());
  const std::size_t card = page.find("id=\"recipe-card\">");
  ASSERT_NE(card, std::string::npos);
  const std::string text = page.substr(card, page.find("</section>", card) - card);
  for (const char* words : {"the capacitors are live", "not a safety approval"})
    EXPECT_NE(text.find(words), std::string::npos) << words;
}

// Property: the coil cut open is on the first screen, once.
TEST(Report, ShowsTheCoilCutOpen) {
  const std::string page = cw::report_page(cw::sample::full_result(), solid_picture_of_nothing());
  const std::size_t at = page.find("<figure class=\"solid\">");
  ASSERT_NE(at, std::string::npos);
  EXPECT_LT(at, page.find("class=\"fold"));
  EXPECT_EQ(page.find("<figure class=\"solid\">", at + 1), std::string::npos);
}

// Property: the method of the error estimate appears once if all states have it in common.
TEST(Report, MethodIsSaidOnce) {
  cw::Result result = cw::sample::full_result();
  for (auto& state : result.states) state.accuracy.method = "by looking twice";
  const std::string page = cw::report_page(result, {});
  const std::size_t at = page.find("by looking twice");
  ASSERT_NE(at, std::string::npos);
  EXPECT_EQ(page.find("by looking twice", at + 1), std::string::npos);
}

}  // namespace
