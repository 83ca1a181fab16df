#include "cases/check/check_case.hpp"

#include <gtest/gtest.h>

#include <filesystem>

#include "cases/commands/starter.hpp"
#include "cases/read/read_case.hpp"
#include "tests/unit/cases/case_text.hpp"

namespace cw::cases {
namespace {

const std::filesystem::path examples = std::filesystem::path(__FILE__).parent_path() / ".." / ".." /
                                       ".." / ".." / "cases" / "examples";

CheckResult check(const std::string& text) {
  return check_case(read_case_text(text, "small.toml"));
}

// Property: a sensible case has neither errors nor warnings, and so do all shipped examples.
TEST(CheckCase, PassesSensibleCases) {
  EXPECT_TRUE(check(small_case).errors.empty());
  EXPECT_TRUE(check(small_case).warnings.empty());
  int count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(examples)) {
    if (entry.path().extension() != ".toml" || entry.path().stem().string().ends_with(".expected"))
      continue;
    const CheckResult result = check_case(read_case(entry.path()));
    EXPECT_TRUE(result.errors.empty()) << result.errors.front();
    EXPECT_TRUE(result.warnings.empty()) << result.warnings.front();
    ++count;
  }
  EXPECT_GE(count, 8);
}

// Property: every complete starter case reads and passes without a warning; an unknown kind is
// answered with the list.
TEST(Starter, PassesItsOwnChecks) {
  ASSERT_FALSE(starter_kinds().empty());
  for (const std::string_view kind : starter_kinds()) {
    if (kind == "shelf") continue;  // it has no coil yet: choice_test.cpp
    const CheckResult result = check(starter_case(kind));
    EXPECT_TRUE(result.errors.empty()) << kind << ": " << result.errors.front();
    EXPECT_TRUE(result.warnings.empty()) << kind << ": " << result.warnings.front();
  }
  EXPECT_EQ(starter_case(""), starter_case("bar"));
  try {
    starter_case("pann");
    FAIL() << "an unknown kind was taken";
  } catch (const std::invalid_argument& error) {
    EXPECT_STREQ(
        error.what(),
        "found no starter case \"pann\"; allowed: bar, braze, empty, forge, harden, loosen, "
        "melt, pan, shelf, sweep; write pan");
  }
}

// Property: the keys in comments of the starter cases are valid too: without the comment marks they
// can be read.
TEST(Starter, CommentedKeysAreValid) {
  std::string text = starter_case("bar");
  for (const std::string mark : {"# bore      =", "# emissivity =", "# can_limits       ="}) {
    const auto at = text.find(mark);
    ASSERT_NE(at, std::string::npos) << mark;
    text.erase(at, 2);
  }
  text.replace(text.find("bore      = \"6 mm\""), 18, "bore      = \"5 mm\"");
  const std::size_t sweep = text.find("# [sweep]");
  ASSERT_NE(sweep, std::string::npos);
  for (std::size_t at = sweep; at != std::string::npos; at = text.find("\n# ", at)) {
    text.erase(text[at] == '\n' ? at + 1 : at, 2);
  }
  EXPECT_TRUE(check(text).errors.empty());
  EXPECT_TRUE(read_case_text(text, "small.toml").sweep);
}

// Property: the border between valid and invalid is where the geometry puts it.
TEST(CheckCase, DrawsTheLineAtContact) {
  const auto errors = [](const std::string& from, const std::string& to) {
    return check(small_case_with(from, to)).errors.size();
  };
  EXPECT_EQ(errors("\"7.5 mm\"", "\"6.06 mm\""), 0U);
  EXPECT_EQ(errors("\"7.5 mm\"", "\"6.04 mm\""), 1U);
  EXPECT_EQ(errors("\"14 mm\"", "\"31.88 mm\""), 0U);
  EXPECT_EQ(errors("\"14 mm\"", "\"31.92 mm\""), 1U);
  EXPECT_EQ(errors("turns = 8", "turns = 0.5"), 0U);
  EXPECT_EQ(errors("turns = 8", "turns = 0.49"), 1U);
  EXPECT_EQ(errors("wall = \"1 mm\"", "wall = \"2.99 mm\""), 0U);
  EXPECT_EQ(errors("wall = \"1 mm\"", "wall = \"3 mm\""), 1U);
}

// Property: a flat coil is spaced by the radial size of its conductor, a helix by the axial one.
TEST(CheckCase, SpacesABarByItsSideAlongTheRow) {
  std::string text =
      small_case_with("{ tube = \"6 mm\", wall = \"1 mm\" }", "{ bar = [\"8 mm\", \"4 mm\"] }");
  EXPECT_TRUE(check(text).errors.empty());
  text.insert(text.find("turns"), "shape = \"flat\"\n");
  text.erase(text.find("[workpiece]"), text.find("[coil]") - text.find("[workpiece]"));
  ASSERT_EQ(check(text).errors.size(), 1U);
  EXPECT_NE(check(text).errors[0].find("at least 8.05 mm"), std::string::npos)
      << check(text).errors[0];
}

}  // namespace
}  // namespace cw::cases
