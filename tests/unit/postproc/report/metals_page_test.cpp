#include "postproc/report/metals_page.hpp"

#include <gtest/gtest.h>

#include "postproc/text/wrap.hpp"
#include "tests/unit/postproc/sample_case.hpp"
#include "tests/unit/postproc/sample_metals.hpp"

namespace cw {
namespace {

std::string comparison_page() {
  Result result = sample::result();
  result.warnings = {"a mesh <as coarse> as this"};
  return metals_page(sample::metals(), result);
}

std::size_t times(const std::string& text, const std::string& what) {
  std::size_t count = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1))
    ++count;
  return count;
}

// The page first gives the rank of the case's own metal, and the reason; it contains the chart;
// every metal has its row and its reason; warnings are escaped; the cautions are included.
TEST(MetalsPage, GivesTheRankOfTheOwnMetal) {
  const std::string page = comparison_page();
  EXPECT_NE(page.find("Brass-c26000 takes "), std::string::npos);
  EXPECT_NE(page.find("rank 3 of 5 metals"), std::string::npos);
  EXPECT_NE(page.find("<svg"), std::string::npos);
  for (const MetalCurve& metal : sample::metals().metals) {
    EXPECT_EQ(times(page, "<th scope=\"row\">" + metal.name), 1U) << metal.name;
    EXPECT_GE(times(page, "<li>" + capitalised(metal.name)), 1U) << metal.name;
  }
  EXPECT_NE(page.find("a mesh &lt;as coarse&gt; as this"), std::string::npos);
  EXPECT_NE(page.find("id=\"cautions\""), std::string::npos);
  EXPECT_LT(page.find("id=\"answer\""), page.find("id=\"table\""));
}

// It loads nothing.
TEST(MetalsPage, LoadsNothing) {
  const std::string page = comparison_page();
  for (const char* loading : {"src=\"http", "href=\"http", "url(http", "<link rel=\"stylesheet\""})
    EXPECT_EQ(page.find(loading), std::string::npos) << loading;
}

}  // namespace
}  // namespace cw
