// The questions of `coilwright design --ask`.
#include "cases/design/ask_shelf.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "cases/design/shelf_case.hpp"

namespace cw::cases {
namespace {

struct Asked {
  std::string file, said;
};
Asked asked(const std::string& lines) {
  std::istringstream answers(lines);
  Asked result;
  result.file = ask_shelf(answers, [&](const std::string& text) { result.said += text; });
  return result;
}

// Property: the answers make a shelf file that reads, with every answer in it; an empty line takes
// what stands in brackets; a wrong answer is reported, and the question asked again.
TEST(AskShelf, MakesAFileThatReads) {
  const Asked all = asked(
      "\n12\n12 mm\n60 mm\n"         // metal; a diameter without unit, then with it; length
      "750 degC\n20 mm\n2 min\n"     // job
      "24 V\n20 A\ntrip\n"           // supply
      "0.33 uF\nten\n10\n14 A\n\n"   // cans; a count in words, then in figures
      "tube 6 mm\n0.5 L/min\n6 m\n"  // conductor
      "no\n");                       // more cans
  const ShelfCase shelf = read_shelf_case({"asked.toml", all.file});
  EXPECT_EQ(shelf.subject.workpiece->material.name, "steel-medium-carbon");
  EXPECT_NEAR(*shelf.subject.workpiece->outline.diameter, 12e-3, 1e-12);
  EXPECT_NEAR(shelf.subject.heat->heated->to, 10e-3, 1e-12);
  EXPECT_NEAR(*shelf.subject.heat->until, 120.0, 1e-9);
  EXPECT_EQ(std::get<PushPullDrive>(shelf.subject.drive).limit_kind, LimitKind::trip);
  EXPECT_NEAR(shelf.subject.tank->capacitance, 3.3e-6, 1e-12);
  EXPECT_EQ(shelf.cans, 10);
  EXPECT_NEAR(*shelf.subject.tank->can_limits->current, 14.0, 1e-12);
  EXPECT_FALSE(shelf.subject.tank->can_limits->voltage);
  EXPECT_TRUE(shelf.subject.coil.coolant);
  EXPECT_NEAR(*shelf.subject.shelf->tube_length, 6.0, 1e-12);
  EXPECT_NE(all.said.find("12 mm"), std::string::npos);
  EXPECT_NE(all.said.find("found no whole number"), std::string::npos);
}

// Property: what is not on hand is written as to be bought, and such a shelf reads, though it has
// no supply.
TEST(AskShelf, TakesWhatIsStillToBeBought) {
  const Asked all =
      asked("\n12 mm\n60 mm\n750 degC\nall\n2 min\nnone\n\n10\n\n\n\n\n\nperhaps\nyes\n");
  const ShelfCase shelf = read_shelf_case({"asked.toml", all.file});
  EXPECT_TRUE(shelf.supply_to_buy) << all.file;
  EXPECT_TRUE(shelf.cans_to_buy) << all.file;
  EXPECT_NE(all.said.find("allowed: yes, no"), std::string::npos);
}

// Property: answers that end too early make no file.
TEST(AskShelf, EndsWithItsAnswers) {
  EXPECT_THROW(asked("steel-medium-carbon\n12 mm\n"), std::invalid_argument);
}

}  // namespace
}  // namespace cw::cases
