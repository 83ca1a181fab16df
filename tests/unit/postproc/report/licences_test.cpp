#include <gtest/gtest.h>

#include <string>

#include "postproc/report/built_in_text.hpp"
#include "postproc/report/page_frame.hpp"

namespace {

std::string licences_of_a_page() {
  const std::string page = cw::framed_page({"Calculated result", "Bar", "1", "00"}, {});
  const std::size_t start = page.find("<details id=\"licences\">");
  return start == std::string::npos ? ""
                                    : page.substr(start, page.find("</details>", start) - start);
}

/// Text with each gap a single blank.
std::string squeezed_text(std::string_view text) {
  std::string out;
  for (const char c : text) {
    const char sign = c == '\n' ? ' ' : c;
    if (sign != ' ' || !out.ends_with(' ')) out += sign;
  }
  return out;
}

}  // namespace

// Property: the page names every holder of rights in the "(c) YEAR HOLDER" lines of the built-in
// scripts, with the two conditions of the MIT License (Open Source Initiative).
TEST(Licences, NameEveryHolderOfTheBuiltInScripts) {
  const std::string licences = squeezed_text(licences_of_a_page());
  const std::string script(cw::report_script());
  int holders = 0;
  for (std::size_t at = 0; (at = script.find("\n * (c) ", at)) != std::string::npos; ++holders) {
    at += std::string("\n * (c) 2022 ").size();
    const std::string holder = script.substr(at, script.find('\n', at) - at);
    EXPECT_NE(licences.find(holder), std::string::npos) << holder;
  }
  EXPECT_EQ(holders, 2);
  EXPECT_NE(licences.find("The above copyright notice and this permission notice shall be included "
                          "in all copies or substantial portions of the Software."),
            std::string::npos);
  EXPECT_NE(licences.find("THE SOFTWARE IS PROVIDED \"AS IS\", WITHOUT WARRANTY OF ANY KIND"),
            std::string::npos);
}

// Property: the page states the terms for sharing it, since it contains parts of the program.
TEST(Licences, LetThePageBeShared) {
  const std::string licences = squeezed_text(licences_of_a_page());
  EXPECT_NE(licences.find("GNU General Public License, version 3"), std::string::npos);
  EXPECT_NE(licences.find("additional permission under section 7"), std::string::npos);
}
