// Designs found from a shelf give the stated results when they are run.
#include <gtest/gtest.h>

#include <fmt/format.h>
#include <unistd.h>

#include <filesystem>

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

}  // namespace
}  // namespace cw::cases
