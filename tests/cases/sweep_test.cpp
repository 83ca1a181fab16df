// The sweep as its user meets it: ranking, going on after every kind of end, many processes.
#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "cases/sweep/rank.hpp"
#include "cases/sweep/store.hpp"

namespace cw::cases {
namespace {

namespace fs = std::filesystem;

struct Outcome {
  int code;
  std::string text;  ///< stdout and stderr together
};

Outcome shell(const std::string& command) {
  std::FILE* pipe = ::popen(("( " + command + " ) 2>&1").c_str(), "r");
  Outcome outcome{-1, ""};
  std::array<char, 4096> buffer{};
  while (const std::size_t n = std::fread(buffer.data(), 1, buffer.size(), pipe))
    outcome.text.append(buffer.data(), n);
  const int status = ::pclose(pipe);
  outcome.code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
  return outcome;
}

/// Turns 2 to 5 by six pitches; the closest does not go together with the tube.
constexpr const char* small_sweep = R"toml(
title = "Small sweep"
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
rms = "100 A"
[sweep]
vary = [{ key = "coil.turns", values = [2, 3, 4, 5] },
        { key = "coil.pitch", from = "6 mm", to = "11 mm", count = 6 }]
rank = "-power.workpiece_W"
require = [{ key = "power.coil_W", most = 18 }]
)toml";
constexpr int designs = 24, invalid = 4;

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
  [[nodiscard]] std::map<std::string, int> count() const {
    std::map<std::string, int> result;
    for (const DesignRow& row : rows()) ++result[word(row.outcome.status)];
    return result;
  }
  /// Every design has its row once, as a run without trouble leaves it.
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

// Every combination has its row; the table is sorted by the key, keeps the requirement, and no line
// is longer than 80 columns; combinations that do not go together are told with their reason.
TEST_F(SweepProgram, RanksEveryDesign) {
  const Outcome run = shell(command());
  ASSERT_EQ(run.code, 0) << run.text;
  expect_complete();
  EXPECT_NE(run.text.find("4 do not go together"), std::string::npos) << run.text;
  EXPECT_NE(run.text.find("they\n    overlap or touch"), std::string::npos) << run.text;
  const auto json = nlohmann::json::parse(std::ifstream(out_ / "designs.json"));
  double before = 1e300;
  int ranked = 0, breaking = 0;
  for (const auto& design : json.at("designs")) {
    if (design.at("status") != "solved") continue;
    const auto& power = design.at("result").at("states").at(0).at("power");
    EXPECT_EQ(power.at("coil_W").get<double>() > 18, design.contains("broken"));
    breaking += design.contains("broken") ? 1 : 0;
    if (!design.contains("place")) continue;
    EXPECT_LE(power.at("workpiece_W").get<double>(), before);
    before = power.at("workpiece_W").get<double>();
    EXPECT_EQ(design.at("place"), ++ranked);
  }
  EXPECT_GT(ranked, 3);
  EXPECT_GT(breaking, 3);
  const std::string text = run.text.substr(0, run.text.find("Store  "));
  std::size_t column = 0;
  for (const char c : text) {
    column = c == '\n' ? 0 : column + ((c & 0xC0) != 0x80 ? 1 : 0);
    ASSERT_LE(column, 80U) << text;
  }
}

// What stands in the store is not solved again: times of the first run stay; one more value costs
// its designs alone.
TEST_F(SweepProgram, GoesOnWhereItWas) {
  ASSERT_EQ(shell(command()).code, 0);
  const auto first = rows();
  ASSERT_EQ(shell(command()).code, 0);
  const auto second = rows();
  ASSERT_EQ(first.size(), second.size());
  for (std::size_t k = 0; k < first.size(); ++k)
    EXPECT_EQ(first[k].outcome.total_s, second[k].outcome.total_s);
  std::string longer = small_sweep;
  longer.replace(longer.find("[2, 3, 4, 5]"), 12, "[2, 3, 4, 5, 6]");
  std::ofstream(folder_ / "small.toml") << longer;
  ASSERT_EQ(shell(command()).code, 0);
  EXPECT_EQ(rows().size(), first.size() + 6);
}

// kill -9 of the whole sweep at ten different moments loses nothing that was stored, and the last
// run finishes it.
TEST_F(SweepProgram, SurvivesBeingKilled) {
  std::size_t before = 0;
  for (const char* moment :
       {"0.05", "0.1", "0.2", "0.3", "0.4", "0.6", "0.25", "0.35", "0.45", "0.15"}) {
    shell(command(2, "normal") + " & p=$!; sleep " + moment + "; kill -9 $p; wait $p");
    const std::size_t now = fs::exists(out_ / "designs.sqlite") ? rows().size() : 0;
    EXPECT_GE(now, before);
    before = now;
  }
  const Outcome last = shell(command(2, "normal"));
  EXPECT_EQ(last.code, 0) << last.text;
  expect_complete();
}

/// Begins in the background and waits until it has a worker; `p` is its process.
constexpr const char* workers_there =
    " & p=$!; list=/proc/$p/task/$p/children;"
    " until grep -q . $list || ! kill -0 $p; do sleep 0.01; done;";

// A worker that dies costs its design alone: the sweep finishes, says so, and the next run solves
// it.
TEST_F(SweepProgram, OneWorkerMayDie) {
  const Outcome run = shell(command(1, "fine") + workers_there +
                            " sleep 0.1; kill -9 $(cut -d' ' -f1 $list); wait $p");
  EXPECT_EQ(run.code, 0) << run.text;
  auto counted = count();
  EXPECT_EQ(counted["crashed"], 1) << run.text;
  EXPECT_EQ(counted["solved"], designs - invalid - 1);
  EXPECT_NE(run.text.find("1 lost with their process"), std::string::npos) << run.text;
  EXPECT_EQ(shell(command(2, "fine")).code, 0);
  expect_complete();
}

// Ctrl-C: exit code 130, what was solved is stored and shown, and the same command goes on.
TEST_F(SweepProgram, StopsOnCtrlC) {
  const Outcome run =
      shell(command(1, "fine") + workers_there + " sleep 0.2; kill -INT $p; wait $p");
  EXPECT_EQ(run.code, 130) << run.text;
  EXPECT_NE(run.text.find("goes on from here"), std::string::npos) << run.text;
  EXPECT_LT(rows().size(), static_cast<std::size_t>(designs));
  EXPECT_EQ(shell(command(2, "fine")).code, 0);
  expect_complete();
}

// Two runs into one store, begun at once: every design is there once.
TEST_F(SweepProgram, TwoRunsShareAStore) {
  const Outcome both = shell(command(1) + " & p=$!; " + command(1) + "; b=$?; wait $p && exit $b");
  EXPECT_EQ(both.code, 0) << both.text;
  expect_complete();
}

// A directory that cannot be written: exit code 4 and what to do.
TEST_F(SweepProgram, SaysThatADirectoryCannotBeWritten) {
  out_ = "/proc/coilwright-sweep";
  const Outcome run = shell(command());
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_NE(run.text.find("give another directory with --out"), std::string::npos) << run.text;
}

// A full disk: exit code 4, what was solved stays, and with room again the sweep finishes.
TEST_F(SweepProgram, SurvivesAFullDisk) {
  fs::create_directories(out_);
  const std::string mount = "mount -t tmpfs -o size=160k none " + out_.string();
  if (shell("unshare -m sh -c '" + mount + "'").code != 0)
    GTEST_SKIP() << "no right to mount a small file system";
  const Outcome run = shell("unshare -m sh -c '" + mount + " && { " + command() +
                            "; echo code $?; mount -o remount,size=50M " + out_.string() + "; " +
                            command() + "; echo code $?; }'");
  EXPECT_NE(run.text.find("the disk is full"), std::string::npos) << run.text;
  EXPECT_NE(run.text.find("code 4"), std::string::npos) << run.text;
  EXPECT_NE(run.text.find("code 0"), std::string::npos) << run.text;
}

// A file that is no store is refused and left alone.
TEST_F(SweepProgram, RefusesAForeignStore) {
  fs::create_directories(out_);
  std::ofstream(out_ / "designs.sqlite")
      << "Letters of my grandmother, scanned. Keep. " << std::string(5000, 'x');
  const Outcome run = shell(command());
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_NE(run.text.find("is no store of designs"), std::string::npos) << run.text;
  EXPECT_EQ(fs::file_size(out_ / "designs.sqlite"), 5042U);
}

// The fast method gives every power and inductance within 0.5 % of the plain one, and shows by how
// much the best differ from their full solutions.
TEST_F(SweepProgram, FastAgreesWithPlain) {
  // On coarse meshes the plain method itself is 0.4 % off.
  ASSERT_EQ(shell(command(2, "normal")).code, 0);
  const Outcome fast = shell(command(2, "normal") + " --method fast");
  ASSERT_EQ(fast.code, 0) << fast.text;
  EXPECT_NE(fast.text.find("Solved in full as well"), std::string::npos) << fast.text;
  std::map<std::string, std::map<std::string, Figures>> by_design;
  for (const DesignRow& row : rows())
    if (row.outcome.status == DesignStatus::solved)
      by_design[spoken(row.changes)][row.method] = figures_of(row.outcome.result);
  EXPECT_EQ(by_design.size(), static_cast<std::size_t>(designs - invalid));
  for (auto& [design, methods] : by_design) {
    ASSERT_EQ(methods.size(), 2U) << design;
    for (const char* key : {"power.workpiece_W", "power.coil_W", "power.total_W",
                            "coil.inductance_H", "coil.resistance_ohm", "coil.dc_resistance_ohm"}) {
      const double plain = *figure_of(methods["plain"], key);
      EXPECT_NEAR(*figure_of(methods["fast"], key), plain, 0.005 * plain) << design << " " << key;
    }
  }
}

// The optimiser's best is no worse than the best of a fine grid between the same ends, and its way
// there stands in the store.
TEST_F(SweepProgram, OptimiserBeatsAFineGrid) {
  std::string text = small_sweep;
  text.replace(text.find("count = 6"), 9, "count = 51");
  text.replace(text.find("from = \"6 mm\""), 13, "from = \"6.1 mm\"");
  text += "optimiser = { evaluations = 80, starts = 2 }\n";
  std::ofstream(folder_ / "small.toml") << text;
  const auto best = [&] {
    const auto json = nlohmann::json::parse(std::ifstream(out_ / "designs.json"));
    return json.at("designs")
        .at(0)
        .at("result")
        .at("states")
        .at(0)
        .at("power")
        .at("workpiece_W")
        .get<double>();
  };
  ASSERT_EQ(shell(command() + " --method fast").code, 0);
  const double grid = best();
  const Outcome run = shell(command() + " --method fast --optimise");
  ASSERT_EQ(run.code, 0) << run.text;
  EXPECT_GE(best(), grid * (1 - 1e-3)) << run.text;
  Store store(out_ / "designs.sqlite");
  const auto trace = store.trace(study_of({folder_ / "small.toml", text}));
  EXPECT_GT(trace.size(), 20U);
  EXPECT_LE(trace.size(), 80U);
}

/// The launcher as any user, and as root.
std::string two_ranks() {
  return "OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 timeout 120 mpirun "
         "--oversubscribe -np 2 ";
}

// Two ranks share the designs, rank 0 alone writes and prints.
TEST_F(SweepProgram, RunsOnTwoRanks) {
  if (shell("command -v mpirun").code != 0) GTEST_SKIP() << "no mpirun";
  const Outcome run = shell(two_ranks() + command(1));
  ASSERT_EQ(run.code, 0) << run.text;
  expect_complete();
  EXPECT_EQ(run.text.find("Small sweep"), run.text.rfind("Small sweep"));
}

// A rank that dies ends the launch; nothing stored is lost, and running again goes on.
TEST_F(SweepProgram, SurvivesALostRank) {
  if (shell("command -v mpirun").code != 0) GTEST_SKIP() << "no mpirun";
  const Outcome run =
      shell(two_ranks() + "sh -c 'if [ $OMPI_COMM_WORLD_RANK = 1 ]; then " + command(1, "normal") +
            " & p=$!; until [ -s " + (out_ / "designs.sqlite").string() +
            " ] || ! kill -0 $p; do sleep 0.01; done; sleep 0.1; kill -9 $p; wait $p; else exec " +
            command(1, "normal") + "; fi'");
  EXPECT_NE(run.code, 0) << run.text;
  const std::size_t stored = rows().size();
  EXPECT_EQ(shell(command(2, "normal")).code, 0) << run.text;
  EXPECT_GE(rows().size(), stored);
  expect_complete();
}

}  // namespace
}  // namespace cw::cases
