// Designs found from a shelf give the stated results when they are run.
#include <gtest/gtest.h>

#include <fmt/format.h>
#include <unistd.h>

#include <filesystem>

#include "cases/design/answer_shelf.hpp"
#include "cases/design/design_case.hpp"
#include "cases/design/design_text.hpp"
#include "cases/design/write_designs.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/run_case.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

/// A pin and a few turns of wire: quick to solve.
constexpr const char* pin = R"(
title = "Pin to be drawn"
[workpiece]
material = "steel-medium-carbon"
diameter = "5 mm"
length   = "20 mm"
[coil]
conductor = { wire = "2 mm" }
leads     = { length = "60 mm", spacing = "10 mm" }
[tank]
capacitance = "2 uF"
cans        = 6
can_limits  = { current = "12 A", voltage = "250 V" }
[drive]
supply       = "12 V"
supply_limit = "10 A"
[heat]
target = "400 degC"
until  = "60 s"
[shelf]
tube_length = "1.5 m"
)";

/// A folder that goes when the test ends.
struct Folder {
  fs::path path = fs::temp_directory_path() / fmt::format("coilwright-design-{}", ::getpid());
  Folder() { fs::remove_all(path); }
  ~Folder() { fs::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
};

// Property: the case files written for a shelf give, when run, what the designs promise: the target
// within the time, no part past its limit, the same time.
TEST(Designs, GiveTheStatedResults) {
  const ShelfCase shelf = read_shelf_case({"pin.toml", pin});
  KnownCoils known;
  const FoundDesigns found = find_designs(shelf, known);
  ASSERT_FALSE(found.offered.empty()) << design_text(shelf, found);
  const Folder folder;
  write_designs(shelf, found, folder.path);
  for (const OfferedDesign& design : found.offered) {
    const Case subject = read_case(folder.path / file_of(design));
    const Result result = run_case(subject, RunOptions{}).result;
    ASSERT_TRUE(result.heat->time_to_target) << result.verdict->sentence;
    EXPECT_LE(*result.heat->time_to_target, 60.0);
    EXPECT_NEAR(*result.heat->time_to_target, *design.result.heat->time_to_target,
                1e-3 * *result.heat->time_to_target);
    for (const LimitResult& limit : result.limits)
      EXPECT_NE(limit.verdict, Verdict::stop) << limit.part;
    EXPECT_LE(design.tube, 1.5);
  }
}

/// An aluminium bar, and no supply yet.
constexpr const char* bar_without_supply = R"(
title = "Aluminium bar to be formed"
[workpiece]
material = "aluminium-6061-t6"
diameter = "12 mm"
length   = "30 mm"
[coil]
conductor = { tube = "4 mm", wall = "0.8 mm" }
leads     = { length = "60 mm", spacing = "12 mm" }
coolant   = { flow = "0.5 L/min" }
turns     = 6
pitch     = "5 mm"
[tank]
capacitance = "3.3 uF"
cans        = 10
can_limits  = { current = "14 A", voltage = "250 V" }
[drive]
[heat]
target = "450 degC"
until  = "120 s"
[shelf]
buy = ["supply"]
)";

// Property: the supply that is sought does the work, as `run` solves the design's file, and one of
// the same voltage that gives a step less does not, by a search of its own.
TEST(Designs, TakeTheLeastSupply) {
  const ShelfCase shelf = read_shelf_case({"bar.toml", bar_without_supply});
  const ShelfAnswer answer = answer_shelf(shelf);
  ASSERT_TRUE(answer.found.supply);
  ASSERT_FALSE(answer.found.offered.empty()) << design_text(answer.shelf, answer.found);
  const Folder folder;
  write_designs(answer.shelf, answer.found, folder.path);
  const Case subject = read_case(folder.path / file_of(answer.found.offered.front()));
  const auto& drive = std::get<PushPullDrive>(subject.drive);
  EXPECT_EQ(drive.supply, answer.found.supply->volts);
  EXPECT_EQ(drive.supply_limit, answer.found.supply->amperes);
  const Result result = run_case(subject, RunOptions{}).result;
  ASSERT_TRUE(result.heat->time_to_target) << result.verdict->sentence;
  EXPECT_LE(*result.heat->time_to_target, 120.0);
  ASSERT_GT(answer.found.supply->amperes, 5.0) << "the case leaves nothing smaller";
  BoughtSupply smaller = *answer.found.supply;
  smaller.amperes = smaller.amperes <= 20 ? smaller.amperes - 5 : smaller.amperes - 10;
  KnownCoils known;
  DesignSearchOptions no_purchases;
  no_purchases.purchases = false;
  const FoundDesigns less = find_designs(with_supply(shelf, smaller), known, no_purchases);
  EXPECT_TRUE(less.offered.empty()) << design_text(shelf, less);
}

}  // namespace
}  // namespace cw::cases
