// What a search for designs may choose.
#include "cases/design/choice.hpp"

#include <gtest/gtest.h>

#include <fmt/format.h>

#include "cases/commands/starter.hpp"
#include "cases/complaint.hpp"

namespace cw::cases {
namespace {

/// The starter of a shelf with one text in place of another.
ShelfCase shelf_with(const std::string& from = "", const std::string& to = "") {
  std::string text = starter_case("shelf");
  if (!from.empty()) text.replace(text.find(from), from.size(), to);
  return read_shelf_case({"shelf.toml", text});
}

/// The message of a shelf that is refused.
std::string refused(const std::string& from, const std::string& to) {
  try {
    shelf_with(from, to);
  } catch (const CaseError& error) {
    return error.what();
  }
  return "";
}

// Property: bounds follow from work and conductor. A 10 mm bolt with 2 mm all round takes 14 mm; 6
// mm tube bent to 12 mm of its middle leaves 18 mm clear, which is more. Turns of bare tube lie 1
// mm apart.
TEST(ChoiceBounds, FollowFromWorkAndConductor) {
  const ShelfCase shelf = shelf_with();
  const ChoiceBounds bounds = choice_bounds(shelf);
  EXPECT_NEAR(bounds.least_bore, 18e-3, 1e-9);
  EXPECT_NEAR(bounds.least_pitch, 7e-3, 1e-9);
  const ShelfCase thick = shelf_with("diameter = \"10 mm\"", "diameter = \"30 mm\"");
  EXPECT_NEAR(choice_bounds(thick).least_bore, 34e-3, 1e-9);
}

// Property: no coil to try needs more conductor than is on hand, and with less of it there are
// fewer turns.
TEST(CoilsToTry, KeepToTheConductorOnHand) {
  const ShelfCase long_one = shelf_with(),
                  short_one = shelf_with("tube_length = \"6 m\"", "tube_length = \"0.8 m\"");
  const auto most_turns = [](const ShelfCase& shelf) {
    double most = 0.0;
    for (const Choice& c : coils_to_try(shelf, choice_bounds(shelf), 1000)) {
      EXPECT_LE(tube_needed(shelf, c), *shelf.subject.shelf->tube_length);
      most = std::max(most, c.turns);
    }
    return most;
  };
  EXPECT_GT(most_turns(short_one), 1.0);
  EXPECT_LT(most_turns(short_one), most_turns(long_one));
}

// Property: every coil to try and every step from it passes the checks of a case.
TEST(CoilsToTry, CanBeBuilt) {
  const ShelfCase shelf = shelf_with();
  const ChoiceBounds bounds = choice_bounds(shelf);
  const auto coils = coils_to_try(shelf, bounds, 12);
  ASSERT_EQ(coils.size(), 12U);
  for (const Choice& c : coils) EXPECT_TRUE(passes_checks(chosen_case(shelf, c)));
  for (const Choice& c : neighbours(shelf, bounds, coils[5]))
    EXPECT_TRUE(passes_checks(chosen_case(shelf, c)));
}

// Property: what is written in [coil] is kept, and what [shelf] keeps.
TEST(CoilsToTry, LeaveAloneWhatIsKept) {
  const ShelfCase shelf = shelf_with("conductor =", "bore = \"25 mm\"\nturns = 9\nconductor =");
  EXPECT_FALSE(shelf.bore_free);
  EXPECT_FALSE(shelf.turns_free);
  for (const Choice& c : coils_to_try(shelf, choice_bounds(shelf), 1000)) {
    EXPECT_EQ(c.turns, 9.0);
    EXPECT_NEAR(c.bore, 25e-3, 1e-12);
  }
  const ShelfCase all_cans =
      shelf_with("tube_length =", "keep = [\"cans\", \"position\"]\ntube_length =");
  EXPECT_EQ(all_wirings(all_cans, all_cans.first).size(), 1U);
  EXPECT_EQ(all_cans.first.shift, 0.0);
}

// Property: ten cans can be used as one to ten side by side, or as one to five strings of two.
// Identity: two equal cans in series have half the capacitance of one.
TEST(Wirings, AreSideBySideOrInPairs) {
  const ShelfCase shelf = shelf_with();
  EXPECT_EQ(all_wirings(shelf, shelf.first).size(), 15U);
  Choice pairs = shelf.first;
  pairs.strings = 4;
  pairs.in_series = 2;
  const Case subject = chosen_case(shelf, pairs);
  EXPECT_EQ(subject.tank->cans, 8);
  EXPECT_EQ(subject.tank->strings(), 4);
  EXPECT_NEAR(subject.tank->capacitance, 4 * 0.33e-6 / 2, 1e-12);
  EXPECT_NEAR(subject.tank->can_capacitance(), 0.33e-6, 1e-12);
}

// Property: a supply that is to be bought stands nowhere in the file; another takes its place.
TEST(ShelfCase, WithoutASupplyTakesAnyOther) {
  const std::string own =
      "supply       = \"24 V\"\nsupply_limit = \"20 A\"\nlimit_kind   = \"fold\" ";
  std::string text = starter_case("shelf");
  text.replace(text.find(own), own.size(), "");
  text.replace(text.find("tube_length ="), 13, "buy = [\"supply\", \"cans\"]\ntube_length =");
  const ShelfCase none = read_shelf_case({"shelf.toml", text});
  EXPECT_TRUE(none.supply_to_buy);
  EXPECT_TRUE(none.cans_to_buy);
  const ShelfCase bought = with_cans(with_supply(none, {36, 15}), 30);
  EXPECT_FALSE(bought.supply_to_buy);
  const auto& drive = std::get<PushPullDrive>(bought.subject.drive);
  EXPECT_EQ(drive.supply, 36.0);
  EXPECT_EQ(drive.supply_limit, 15.0);
  EXPECT_EQ(bought.cans, 30);
  EXPECT_NEAR(bought.subject.tank->can_capacitance(), 0.33e-6, 1e-12);
}

// Property: without a supply, and none to be bought, both ways out are named.
TEST(ShelfCase, WithoutASupplySaysHowToHaveOneFound) {
  const std::string message =
      refused("supply       = \"24 V\"\nsupply_limit = \"20 A\"\nlimit_kind   = \"fold\" ", "");
  EXPECT_NE(message.find("found no supply; write for example supply = \"24 V\""), std::string::npos)
      << message;
  EXPECT_NE(message.find("buy = [\"supply\"] in [shelf]"), std::string::npos) << message;
}

// Property: a supply is on hand or to be bought, not both.
TEST(ShelfCase, HasASupplyOrBuysOne) {
  EXPECT_NE(refused("tube_length =", "buy = [\"supply\"]\ntube_length =")
                .find("remove supply and supply_limit from [drive]"),
            std::string::npos);
}

// Property: the stretch that is to be hot stands in the middle of the coil, the work with it.
TEST(FirstChoice, PutsTheStretchIntoTheCoil) {
  const ShelfCase shelf =
      shelf_with("heated = [\"-10 mm\", \"10 mm\"]", "heated = [\"-30 mm\", \"-10 mm\"]");
  const Case subject = chosen_case(shelf, shelf.first);
  EXPECT_NEAR(subject.heat->heated->from, -10e-3, 1e-12);
  EXPECT_NEAR(subject.heat->heated->to, 10e-3, 1e-12);
  EXPECT_NEAR(extent_of(subject.workpiece->outline).low, -10e-3, 1e-12);
}

// Property: an end that is to be hot may stand otherwise in the coil, and what has one middle with
// the work may not.
TEST(Neighbours, MoveAnEndAlongTheCoil) {
  const auto moved = [](const ShelfCase& shelf) {
    int count = 0;
    for (const Choice& c : neighbours(shelf, choice_bounds(shelf), shelf.first))
      count += c.shift != shelf.first.shift ? 1 : 0;
    return count;
  };
  EXPECT_EQ(moved(shelf_with()), 0);
  EXPECT_EQ(
      moved(shelf_with("heated = [\"-10 mm\", \"10 mm\"]", "heated = [\"-30 mm\", \"-10 mm\"]")),
      2);
}

// Property: a shelf without a job is answered with what to write.
TEST(ShelfCase, SaysWhatIsMissing) {
  EXPECT_EQ(refused("until  = \"120 s\"", ""),
            "shelf.toml:28:2: heat.until: found no time within which it is to be hot; write for "
            "example until = \"120 s\"");
  EXPECT_NE(refused("# shape   = \"flat\"", "shape = \"cone\"\nbore_end = \"40 mm\"")
                .find("coil.shape: found a shape that is not searched; allowed: helix, flat"),
            std::string::npos);
  EXPECT_NE(refused("diameter = \"10 mm\"", "diameter = \"12\"").find("without a unit"),
            std::string::npos);
}

}  // namespace
}  // namespace cw::cases
