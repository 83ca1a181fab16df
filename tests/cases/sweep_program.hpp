#pragma once

#include <gtest/gtest.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <string>
#include <tuple>

#include "cases/sweep/store.hpp"
#include "tests/shell.hpp"

namespace cw::cases {
namespace fs = std::filesystem;

/// An aluminium bar in three turns of tube.
inline const std::string bar_in_three_turns = R"toml(
[workpiece]
material = "aluminium-6061-t6"
diameter = "20 mm"
length = "30 mm"
[coil]
turns = 3
bore = "32 mm"
pitch = "8 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
[drive]
kind = "current"
frequency = "20 kHz"
)toml";

/// Turns 2 to 5 by six pitches; the smallest pitch is impossible with the tube.
inline const std::string small_sweep =
    "title = \"Small sweep\"\n" + bar_in_three_turns + R"toml(rms = "100 A"
[sweep]
vary = [{ key = "coil.turns", values = [2, 3, 4, 5] },
        { key = "coil.pitch", from = "6 mm", to = "11 mm", count = 6 }]
rank = "-power.workpiece_W"
require = [{ key = "power.coil_W", most = 18 }]
)toml";
inline constexpr int designs = 24, invalid = 4;

class SweepProgram : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder_);
    std::ofstream(folder_ / "small.toml") << small_sweep;
  }
  void TearDown() override { fs::remove_all(folder_); }

  [[nodiscard]] std::string command(int jobs = 2, const std::string& accuracy = "fast") const {
    return std::string(COILWRIGHT_PROGRAM) + " sweep " + (folder_ / "small.toml").string() +
           " --accuracy " + accuracy + " --jobs " + std::to_string(jobs) + " --out " +
           out_.string();
  }
  [[nodiscard]] std::vector<DesignRow> rows() const {
    Store store(out_ / "designs.sqlite");
    return store.rows(study_of({folder_ / "small.toml", small_sweep}));
  }
  /// The store's entry for each design; it must not change once it is there.
  using Stored = std::map<std::string, std::tuple<std::string, std::string, double>>;
  [[nodiscard]] Stored stored(const fs::path& directory) const {
    Stored all;
    if (!fs::exists(directory / "designs.sqlite")) return all;
    Store store(directory / "designs.sqlite");
    for (const DesignRow& row : store.rows(study_of({folder_ / "small.toml", small_sweep})))
      if (row.outcome.status != DesignStatus::crashed)
        all[row.id] = {word(row.outcome.status), row.outcome.result, row.outcome.total_s};
    return all;
  }
  [[nodiscard]] Stored stored() const { return stored(out_); }
  static void expect_kept(const Stored& before, const Stored& after) {
    for (const auto& [id, what] : before) {
      const auto found = after.find(id);
      ASSERT_NE(found, after.end()) << "lost: " << id;
      EXPECT_EQ(found->second, what);
    }
  }
  [[nodiscard]] std::map<std::string, int> count() const {
    std::map<std::string, int> result;
    for (const DesignRow& row : rows()) ++result[word(row.outcome.status)];
    return result;
  }
  /// Every design has exactly one row, as after an undisturbed run.
  void expect_complete() const {
    std::set<std::string> seen;
    for (const DesignRow& row : rows()) EXPECT_TRUE(seen.insert(row.id).second);
    EXPECT_EQ(count(),
              (std::map<std::string, int>{{"invalid", invalid}, {"solved", designs - invalid}}));
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_sweep_test_" + std::to_string(::getpid()));
  fs::path out_ = folder_ / "out";
};

}  // namespace cw::cases
