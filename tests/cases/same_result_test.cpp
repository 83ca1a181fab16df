// Same input, same output: every byte except the times, in any order, in any number of processes.
#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <string>

#include "cases/sweep/store.hpp"
#include "tests/cases/sweep_program.hpp"

namespace cw::cases {
namespace {

std::string read(const fs::path& file) {
  std::ifstream stream(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}

class SameResult : public testing::Test {
 protected:
  void SetUp() override { fs::create_directories(folder_); }
  void TearDown() override { fs::remove_all(folder_); }

  /// Runs the program with these arguments and this output folder; false if it fails.
  [[nodiscard]] bool solve(const std::string& words, const std::string& out,
                           const std::string& before = "") const {
    const std::string line = "cd " + folder_.string() + " && " + before +
                             " " COILWRIGHT_PROGRAM " " + words + " --accuracy fast --out " + out +
                             " > /dev/null 2>&1";
    return std::system(line.c_str()) == 0;
  }
  /// Every file in the folder, by name, except the page, which contains the times in words; the
  /// times are removed from result.json.
  [[nodiscard]] std::map<std::string, std::string> files(const std::string& out) const {
    static const std::regex timing("\"timing\": \\{[^}]*\\}");
    std::map<std::string, std::string> found;
    for (const auto& entry : fs::recursive_directory_iterator(folder_ / out)) {
      if (!entry.is_regular_file()) continue;
      const std::string name = fs::relative(entry.path(), folder_ / out).string();
      if (name == "report.html") continue;
      std::string text = read(entry.path());
      if (name == "result.json") {
        EXPECT_TRUE(std::regex_search(text, timing));
        text = std::regex_replace(text, timing, "");
      }
      found[name] = std::move(text);
    }
    return found;
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_same_result_test_" + std::to_string(::getpid()));
};

// Property: two runs of one case leave the same files, byte for byte, the times in result.json
// aside; whatever the folder is called and however many threads the libraries are offered.
TEST_F(SameResult, RunTwice) {
  for (const char* name : {"aluminium-bar", "axle-nut"}) {
    const std::string words = std::string("run " COILWRIGHT_EXAMPLES "/") + name + ".toml";
    ASSERT_TRUE(solve(words, "one", "OMP_NUM_THREADS=1"));
    ASSERT_TRUE(solve(words, "two", "OMP_NUM_THREADS=3"));
    const auto one = files("one"), two = files("two");
    EXPECT_GT(one.size(), 10U);
    ASSERT_EQ(one.size(), two.size());
    for (const auto& [file, text] : one) EXPECT_TRUE(two.at(file) == text) << name << " " << file;
  }
}

// Property: a result names the program, its compiler and the libraries it was built with, each with
// a version.
TEST_F(SameResult, NamesTheBuild) {
  ASSERT_TRUE(solve("run " COILWRIGHT_EXAMPLES "/aluminium-bar.toml", "out"));
  const auto result = nlohmann::json::parse(read(folder_ / "out" / "result.json"));
  const std::regex versioned("\\S+ v?[0-9]+(\\.[0-9]+)+");
  EXPECT_EQ(result.at("version"), result.at("build").at("version"));
  EXPECT_FALSE(result.at("build").at("compiler").get<std::string>().empty());
  std::string all;
  for (const std::string library : result.at("build").at("libraries")) {
    EXPECT_TRUE(std::regex_match(library, versioned)) << library;
    all += library + ";";
  }
  for (const char* name : {"Boost ", "Eigen ", "fmt ", "Gmsh ", "MPI ", "NLopt ", "SQLite ",
                           "SUNDIALS ", "UDUNITS ", "VTK "})
    EXPECT_NE(all.find(name), std::string::npos) << name << all;
}

/// Two numbers of turns by five pitches; every drive has one frequency.
std::string sweep_text(const std::string& turns, const std::string& pitch) {
  return bar_in_three_turns +
         "rms = \"100 A\"\n"
         "[sweep]\nvary = [{ key = \"coil.turns\", values = " +
         turns + " },\n        { key = \"coil.pitch\", values = " + pitch +
         " }]\nrank = \"-power.workpiece_W\"\n";
}

/// The stored answer of each design, by its changes.
std::map<std::string, std::string> answers(const fs::path& file, const fs::path& out) {
  Store store(out / "designs.sqlite");
  std::map<std::string, std::string> found;
  for (const DesignRow& row : store.rows(study_of({file, read(file)})))
    found[spoken(row.changes)] = row.outcome.reason + row.outcome.result;
  return found;
}

// Property: a design has the same figures to the last digit with any number of processes, in any
// order, and when it is solved alone.
TEST_F(SameResult, SweepWithAnyNumberOfJobs) {
  const std::string pitches = "[\"7 mm\", \"7.6 mm\", \"8.2 mm\", \"9 mm\", \"10 mm\"]";
  std::ofstream(folder_ / "up.toml") << sweep_text("[3, 4]", pitches);
  std::ofstream(folder_ / "down.toml")
      << sweep_text("[4, 3]", "[\"10 mm\", \"9 mm\", \"8.2 mm\", \"7.6 mm\", \"7 mm\"]");
  std::ofstream(folder_ / "alone.toml") << sweep_text("[4]", "[\"8.2 mm\"]");
  for (const std::string method : {"plain", "fast"}) {
    const auto solved = [&](const std::string& name, int jobs) {
      const std::string out = method + name + std::to_string(jobs);
      EXPECT_TRUE(solve(
          "sweep " + name + ".toml --method " + method + " --jobs " + std::to_string(jobs), out));
      return answers(folder_ / (name + ".toml"), folder_ / out);
    };
    const auto first = solved("up", 1);
    EXPECT_EQ(first.size(), 10U);
    EXPECT_TRUE(first == solved("up", 2)) << method;
    EXPECT_TRUE(first == solved("up", 3)) << method;
    EXPECT_TRUE(first == solved("down", 1)) << method;
    const auto alone = solved("alone", 1);
    EXPECT_EQ(alone.size(), 1U);
    for (const auto& [design, answer] : alone)
      EXPECT_TRUE(first.at(design) == answer) << method << " " << design;
  }
}

}  // namespace
}  // namespace cw::cases
