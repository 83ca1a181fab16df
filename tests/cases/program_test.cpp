// The program as a user sees it: exit codes, messages, files, in a process of its own.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <string>

#include "tests/shell.hpp"

namespace {

namespace fs = std::filesystem;

using cw::shell;
using Outcome = cw::Shell;

class Program : public testing::Test {
 protected:
  void SetUp() override { fs::create_directories(folder_); }
  void TearDown() override { fs::remove_all(folder_); }

  [[nodiscard]] static Outcome coilwright(const std::string& arguments) {
    return shell(std::string(COILWRIGHT_PROGRAM) + " " + arguments);
  }
  [[nodiscard]] static std::string example(const std::string& name) {
    return std::string(COILWRIGHT_EXAMPLES) + "/" + name + ".toml";
  }
  [[nodiscard]] std::string in_folder(const std::string& name) const {
    return (folder_ / name).string();
  }
  [[nodiscard]] static std::string read(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_program_test_" + std::to_string(::getpid()));
};

// A run writes every promised file, prints no line over 80 columns, and needs no display.
TEST_F(Program, RunWritesEveryFileWithoutADisplay) {
  const Outcome run =
      shell("env -u DISPLAY -u WAYLAND_DISPLAY " + std::string(COILWRIGHT_PROGRAM) + " run " +
            example("chisel-blank-bench") + " --accuracy fast --out " + in_folder("out"));
  ASSERT_EQ(run.code, 0) << run.text;
  for (const char* file :
       {"result.json", "report.html", "tables/turns.csv", "tables/powers.csv", "pictures/field.svg",
        "pictures/field.png", "fields/fixed_frequency.vtu", "fields/fields.pvd"})
    EXPECT_GT(fs::file_size(folder_ / "out" / file), 100U) << file;
  // Paths at the end may be longer, since they include the user's folders.
  const std::string text = run.text.substr(0, run.text.find("Report  "));
  std::size_t column = 0;
  for (const char c : text) {
    column = c == '\n' ? 0 : column + ((c & 0xC0) != 0x80 ? 1 : 0);
    ASSERT_LE(column, 80U) << text;
  }
}

// Equal input gives equal bytes, except for timing.
TEST_F(Program, SameInputSameResult) {
  std::array<nlohmann::json, 2> results;
  for (std::size_t i = 0; i < 2; ++i) {
    const Outcome run = coilwright("run " + example("aluminium-bar") +
                                   " --accuracy fast --json --out " + in_folder("out"));
    ASSERT_EQ(run.code, 0) << run.text;
    results[i] = nlohmann::json::parse(run.text);
    results[i].erase("timing");
  }
  EXPECT_EQ(results[0].dump(), results[1].dump());
}

// result.json of every kind of case obeys the shipped schema (JSON Schema draft 7).
TEST_F(Program, ResultsObeyTheSchema) {
  if (shell("/usr/bin/python3 -c 'import jsonschema'").code != 0)
    GTEST_SKIP() << "python3-jsonschema is not installed";
  for (const char* name : {"chisel-blank-bench", "bronze-melt-bench", "flat-coil", "axle-nut"}) {
    ASSERT_EQ(
        coilwright("run " + example(name) + " --accuracy fast --out " + in_folder("out")).code, 0);
    const Outcome valid =
        shell("/usr/bin/python3 -W ignore -m jsonschema -i " + in_folder("out/result.json") + " " +
              COILWRIGHT_EXAMPLES "/../result.schema.json");
    EXPECT_EQ(valid.code, 0) << name << ": " << valid.text;
  }
}

// The page of a run equals the page made again from its files, byte for byte. A damaged result
// gives exit code 2 with the file's name, and the page stays.
TEST_F(Program, ReportMakesTheSamePageAgain) {
  ASSERT_EQ(
      coilwright("run " + example("axle-nut") + " --accuracy fast --out " + in_folder("out")).code,
      0);
  const fs::path page = folder_ / "out" / "report.html";
  const std::string first = read(page);
  EXPECT_GT(first.size(), 10000U);
  fs::remove(page);
  const Outcome again = coilwright("report " + in_folder("out"));
  ASSERT_EQ(again.code, 0) << again.text;
  EXPECT_TRUE(read(page) == first);
  const fs::path json = folder_ / "out" / "result.json";
  fs::resize_file(json, fs::file_size(json) / 2);
  const Outcome damaged = coilwright("report " + in_folder("out"));
  EXPECT_EQ(damaged.code, 2);
  EXPECT_NE(damaged.text.find("out/result.json"), std::string::npos) << damaged.text;
  EXPECT_TRUE(read(page) == first);
  EXPECT_EQ(coilwright("report " + in_folder("elsewhere")).code, 2);
}

// Mistakes give exit code 2 and a message with their place, and no files are written.
TEST_F(Program, WrongInputWritesNoFiles) {
  std::ofstream(folder_ / "wrong.toml") << "[coil]\nturns = 3\nbore = 20\npich = \"7 mm\"\n";
  for (const char* verb : {"run", "check"}) {
    const Outcome outcome =
        coilwright(std::string(verb) + " " + in_folder("wrong.toml") +
                   (std::string(verb) == "run" ? " --out " + in_folder("out") : ""));
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.text.find("wrong.toml:3:"), std::string::npos) << outcome.text;
    EXPECT_NE(outcome.text.find("pitch"), std::string::npos) << outcome.text;
  }
  EXPECT_FALSE(fs::exists(folder_ / "out"));
  EXPECT_EQ(coilwright("run " + in_folder("absent.toml")).code, 2);
  EXPECT_EQ(coilwright("materials unobtainium").code, 2);
  EXPECT_EQ(coilwright("new spaceship").code, 2);
  EXPECT_EQ(coilwright("frobnicate").code, 2);
}

// The comparison of supplies prints within 80 columns and writes its table only to the given
// directory.
TEST_F(Program, SupplyPrintsAndWritesATable) {
  const Outcome run = coilwright("supply " + example("axle-nut") + " --out " + in_folder("out"));
  ASSERT_EQ(run.code, 0) << run.text;
  EXPECT_NE(run.text.find("24*"), std::string::npos) << run.text;
  const std::string text = run.text.substr(0, run.text.find("Numbers  "));
  std::size_t column = 0;
  for (const char c : text) {
    column = c == '\n' ? 0 : column + 1;
    ASSERT_LE(column, 80U) << text;
  }
  const std::string table = read(folder_ / "out" / "tables" / "supply.csv");
  EXPECT_EQ(std::count(table.begin(), table.end(), '\n'), 6);
  EXPECT_EQ(coilwright("supply " + example("aluminium-bar")).code, 2);
}

// The comparison of metals prints within 80 columns, explains why aluminium barely warms with its
// surface resistance and the coil's, and writes table, chart, numbers and a field per metal.
TEST_F(Program, MetalsPrintsTheAnswerAndWritesItsFiles) {
  const Outcome run = coilwright("metals " + example("metals-in-a-coil") +
                                 " --accuracy fast --out " + in_folder("out"));
  ASSERT_EQ(run.code, 0) << run.text;
  const std::string text = run.text.substr(0, run.text.find("Numbers  "));
  std::size_t column = 0;
  for (const char c : text) {
    column = c == '\n' ? 0 : column + 1;
    ASSERT_LE(column, 80U) << text;
  }
  std::string flat = run.text;
  std::replace(flat.begin(), flat.end(), '\n', ' ');
  const std::size_t why = flat.find("barely warms: its surface");
  ASSERT_NE(why, std::string::npos) << run.text;
  EXPECT_EQ(flat.rfind("aluminium", why) + 30 > why, true) << run.text;
  int fields = 0;
  for (const auto& entry : fs::directory_iterator(folder_ / "out" / "fields"))
    fields += entry.path().extension() == ".vtu" ? 1 : 0;
  EXPECT_GE(fields, 20);
  for (const char* file : {"result.json", "tables/metals.csv", "pictures/metals.svg"})
    EXPECT_GT(fs::file_size(folder_ / "out" / file), 100U) << file;
  ASSERT_EQ(coilwright("new empty > " + in_folder("empty.toml")).code, 0);
  EXPECT_EQ(coilwright("metals " + in_folder("empty.toml")).code, 2);
}

// A directory that is not ours is not changed.
TEST_F(Program, ForeignDirectoriesAreNotOverwritten) {
  fs::create_directories(folder_ / "mine");
  std::ofstream(folder_ / "mine" / "letter.txt") << "keep me";
  const Outcome run =
      coilwright("run " + example("aluminium-bar") + " --accuracy fast --out " + in_folder("mine"));
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_EQ(read(folder_ / "mine" / "letter.txt"), "keep me");
  EXPECT_EQ(std::distance(fs::directory_iterator(folder_ / "mine"), fs::directory_iterator()), 1);
}

// Starter cases pass the checks; the material list fits 80 columns and every material has a sheet.
TEST_F(Program, StartersCheckAndMaterialsList) {
  for (const char* kind : {"bar", "melt", "pan", "empty"}) {
    ASSERT_EQ(coilwright(std::string("new ") + kind + " > " + in_folder("starter.toml")).code, 0);
    EXPECT_EQ(coilwright("check " + in_folder("starter.toml")).code, 0) << kind;
  }
  const Outcome list = coilwright("materials");
  ASSERT_EQ(list.code, 0);
  std::size_t start = 0, rows = 0;
  for (std::size_t end = list.text.find('\n'); end != std::string::npos;
       end = list.text.find('\n', start)) {
    EXPECT_LE(end - start, 80U) << list.text.substr(start, end - start);
    start = end + 1;
    ++rows;
  }
  EXPECT_GT(rows, 25U);
  for (const char* name : {"steel-low-carbon", "graphite", "copper-tube", "ceramic-fibre"})
    EXPECT_NE(coilwright(std::string("materials ") + name).text.find("source"), std::string::npos);
}

}  // namespace
