// The random cases of the accuracy study, and the study itself, on a few seeds.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>

#include "cases/check/check_case.hpp"
#include "cases/read/read_case.hpp"
#include "materials/library.hpp"
#include "tests/accuracy/comparison.hpp"
#include "tests/accuracy/run_study.hpp"
#include "tests/accuracy/study_report.hpp"

namespace cw::accuracy {
namespace {

std::vector<std::uint64_t> seeds(std::uint64_t from, std::size_t count) {
  std::vector<std::uint64_t> list;
  for (std::size_t i = 0; i < count; ++i) list.push_back(from + i);
  return list;
}

// A seed gives the same case every time; another seed gives another case.
TEST(RandomCase, FollowsFromItsSeed) {
  EXPECT_EQ(random_case(5).text, random_case(5).text);
  EXPECT_NE(random_case(5).text, random_case(6).text);
}

// A few hundred cases contain every class and every metal of the library.
TEST(RandomCase, CoversEveryClass) {
  std::map<std::string, std::set<std::string>> seen;
  std::string all;
  for (const std::uint64_t seed : seeds(1, 600)) {
    const RandomCase c = random_case(seed);
    seen["work"].insert(c.classes.work);
    seen["coil"].insert(c.classes.coil);
    seen["conductor"].insert(c.classes.conductor);
    seen["magnetic"].insert(c.classes.magnetic);
    seen["skin"].insert(c.classes.skin);
    seen["bodies"].insert(c.classes.bodies);
    seen["drive"].insert(c.classes.drive);
    all += c.text;
  }
  EXPECT_EQ(seen["work"].size(), 8U);  // with the empty coil
  EXPECT_EQ(seen["coil"].size(), 4U);
  EXPECT_EQ(seen["conductor"].size(), 5U);
  EXPECT_EQ(seen["magnetic"].size(), 2U);
  EXPECT_EQ(seen["skin"].size(), 4U);    // with the empty coil
  EXPECT_EQ(seen["bodies"].size(), 7U);  // with none
  EXPECT_EQ(seen["drive"].size(), 2U);
  for (const std::string& name : material_names()) {
    if (name == "air") continue;
    EXPECT_NE(all.find("\"" + name + "\""), std::string::npos) << name;
  }
}

// The reader accepts every case, and most can be built: check refuses only geometry that does not
// fit.
TEST(RandomCase, CanBeReadAndMostlyBuilt) {
  std::size_t refused = 0;
  for (const std::uint64_t seed : seeds(1, 300)) {
    const RandomCase c = random_case(seed);
    SCOPED_TRACE(fmt::format("seed {}\n{}", seed, c.text));
    Case subject;
    ASSERT_NO_THROW(subject = read_case_text(c.text, "case.toml"));
    if (!check_case(subject).errors.empty()) ++refused;
  }
  EXPECT_LT(refused, 45U);
}

// Every case that check accepts is solved: forty seeds, each on its own.
TEST(RandomCase, WhatCheckAcceptsIsSolved) {
  const StudyPlan plan{.seeds = seeds(1, 40), .reference = false};
  Rows rows;
  run_study(plan, rows, [](const Row& row) {
    EXPECT_NE(row.outcome, Outcome::failed) << "seed " << row.seed << ": " << row.message << '\n'
                                            << random_case(row.seed).about;
  });
  EXPECT_EQ(rows.size(), 40U);
}

// If a section gets flat or folded triangles, it is meshed again with shorter edges: a small flat
// coil in front of a long rod, four times.
TEST(RandomCase, HardSectionsAreMeshedAnotherWay) {
  const StudyPlan plan{.seeds = {384, 595, 859, 865}, .reference = false};
  Rows rows;
  run_study(plan, rows, [](const Row& row) {
    EXPECT_EQ(row.outcome, Outcome::solved) << "seed " << row.seed << ": " << row.message;
  });
}

Row sample_row() {
  return {.seed = 12,
          .text_hash = text_hash("text"),
          .effort = "normal",
          .outcome = Outcome::solved,
          .unknowns = 12345,
          .seconds = 1.25,
          .figures = {{"inductance", 1.5e-6, 1e-3}, {"coil", 12.5, {}}, {"workpiece", 100.0, 0.01}},
          .message = "said \"no\", twice"};
}

// A row is the same after writing and reading; an incomplete row is rejected.
TEST(StudyRow, SurvivesItsFile) {
  const Row row = sample_row();
  const std::string line = as_line(row);
  const auto back = row_of(line);
  ASSERT_TRUE(back);
  EXPECT_EQ(as_line(*back), line);
  EXPECT_EQ(back->figures.size(), 3U);
  EXPECT_FALSE(back->figures[1].estimate);
  EXPECT_EQ(back->message, "said 'no', twice");
  for (std::size_t n = 0; n < line.size(); ++n) EXPECT_FALSE(row_of(line.substr(0, n))) << n;
}

// A file that ends within a row is continued on a new line.
TEST(StudyRow, FileIsContinuedAfterHalfARow) {
  const auto file = std::filesystem::temp_directory_path() /
                    fmt::format("study-row-{}.csv", text_hash(testing::TempDir()));
  std::filesystem::remove(file);
  Row row = sample_row();
  RowFile(file).append(row);
  std::ofstream(file, std::ios::app) << as_line(row).substr(0, 40);
  row.seed = 13;
  RowFile(file).append(row);
  const Rows rows = read_rows(file);
  std::filesystem::remove(file);
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_TRUE(rows.contains({12, "normal"}) && rows.contains({13, "normal"}));
}

// Differences are relative to the reference, powers below a thousandth of the total are left out,
// and a figure without a stated error counts as covered.
TEST(StudyComparison, LeavesSmallPowersOut) {
  Row row = sample_row(), reference = sample_row();
  row.figures.push_back({"speck", 0.05, 0.0});
  reference.figures.push_back({"speck", 0.1, 0.0});
  row.figures[2].value = 102.0;
  const auto all = differences(row, reference);
  ASSERT_EQ(all.size(), 3U);
  EXPECT_EQ(all[2].quantity, "body");
  EXPECT_NEAR(all[2].off, 0.02, 1e-12);
  EXPECT_FALSE(all[2].covered());
  EXPECT_TRUE(all[1].covered());
}

// Known rows are not solved again, unless the generator now draws another case for the seed.
TEST(Study, SolvesOnlyWhatIsMissing) {
  const StudyPlan plan{.seeds = {1, 2}, .effort = "fast", .reference = false};
  Rows rows;
  const auto known = [&](std::uint64_t seed, const std::string& hash) {
    rows[{seed, "fast"}] = {.seed = seed, .text_hash = hash, .effort = "fast"};
  };
  known(1, text_hash(random_case(1).text));
  known(2, "another");
  std::vector<std::uint64_t> solved;
  run_study(plan, rows, [&](const Row& row) { solved.push_back(row.seed); });
  EXPECT_EQ(solved, std::vector<std::uint64_t>{2});
}

// A solution that exceeds its time becomes one failed row with the reason.
TEST(Study, LimitsTheTimeOfASolution) {
  // Long enough to read and check a case, not to mesh it.
  const StudyPlan plan{.seeds = seeds(1, 5), .reference = false, .seconds = 0.02};
  Rows rows;
  run_study(plan, rows, [](const Row& row) {
    if (row.outcome == Outcome::refused) return;
    EXPECT_EQ(row.message, "took more than 0.02 s");
  });
  EXPECT_EQ(rows.size(), 5U);
}

}  // namespace
}  // namespace cw::accuracy
