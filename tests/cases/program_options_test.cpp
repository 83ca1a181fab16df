// Options and output of the command line, in a process of its own.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>
#include <string>

#include "tests/shell.hpp"

namespace {

namespace fs = std::filesystem;

using nlohmann::json;

/// The length of a bar in a helix, solved at a fixed current: seconds at most.
constexpr const char* bar = R"toml(title = "Bar"
[workpiece]
material = "aluminium-6061-t6"
diameter = "14 mm"
length = "60 mm"
[coil]
turns = 8
bore = "32 mm"
pitch = "7.5 mm"
conductor = { tube = "6 mm", wall = "1 mm" }
[drive]
kind = "current"
frequency = "100 kHz"
rms = "100 A"
)toml";

class ProgramOptions : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder_);
    std::ofstream(folder_ / "bar.toml") << bar;
  }
  void TearDown() override { fs::remove_all(folder_); }

  /// A line of shell in the folder of the test; $P is the program.
  [[nodiscard]] cw::Shell in_folder(const std::string& line) const {
    return cw::shell("cd " + folder_.string() +
                     "; P=" COILWRIGHT_PROGRAM "; E=" COILWRIGHT_EXAMPLES "; " + line);
  }
  [[nodiscard]] json result(const std::string& directory) const {
    return json::parse(std::ifstream(folder_ / directory / "result.json"));
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_options_test_" + std::to_string(::getpid()));
};

/// Lines and the widest of them, in characters.
std::pair<std::size_t, std::size_t> size_of(const std::string& text) {
  std::istringstream stream(text);
  std::size_t lines = 0, widest = 0;
  for (std::string line; std::getline(stream, line); ++lines) {
    const auto width = std::ranges::count_if(line, [](char c) { return (c & 0xC0) != 0x80; });
    widest = std::max(widest, static_cast<std::size_t>(width));
  }
  return {lines, widest};
}

// A run prints its answer in thirty lines of 80 columns, including warnings and files: for a fixed
// frequency, a tank with its heating run, a melt, and without a workpiece in the field.
TEST_F(ProgramOptions, RunPrintsThirtyLinesOfEightyColumns) {
  for (const char* name :
       {"chisel-blank-bench", "aluminium-bar", "axle-nut", "bronze-melt-bench", "flat-coil"}) {
    const cw::Shell run =
        in_folder(std::string("$P run $E/") + name + ".toml --accuracy fast --out out");
    ASSERT_EQ(run.code, 0) << run.text;
    const auto [lines, widest] = size_of(run.text);
    EXPECT_LE(lines, 30U) << run.text;
    EXPECT_LE(widest, 80U) << run.text;
    EXPECT_NE(run.text.find("\nReport    out/report.html\n"), std::string::npos) << run.text;
    EXPECT_NE(run.text.find("not a safety approval"), std::string::npos) << run.text;
  }
}

// --full prints every figure, --quiet only the answer, with which the other two begin.
TEST_F(ProgramOptions, FullAndQuiet) {
  const std::string command = "$P run bar.toml --accuracy fast --out out ";
  const cw::Shell brief = in_folder(command), full = in_folder(command + "--full"),
                  quiet = in_folder(command + "--quiet");
  ASSERT_EQ(brief.code + full.code + quiet.code, 0) << brief.text << full.text << quiet.text;
  EXPECT_GT(size_of(full.text).first, 40U) << full.text;
  EXPECT_NE(full.text.find("Stray field"), std::string::npos);
  EXPECT_EQ(brief.text.find("Stray field"), std::string::npos);
  std::string answer = quiet.text;
  std::replace(answer.begin(), answer.end(), '\n', ' ');
  std::string said = brief.text.substr(0, 400);
  said = std::regex_replace(said, std::regex("\\s+"), " ");
  EXPECT_NE(said.find(answer.substr(0, answer.size() - 1)), std::string::npos) << said << answer;
  EXPECT_EQ(in_folder(command + "--full --quiet").code, 2);
}

// The values of --set are solved, appear in the title, and give the case another identity; mistakes
// in them refer to the command line.
TEST_F(ProgramOptions, SetChangesTheCase) {
  ASSERT_EQ(in_folder("$P run bar.toml --accuracy fast --quiet --out a").code, 0);
  ASSERT_EQ(in_folder("$P run bar.toml --accuracy fast --quiet --out b --set coil.turns=6 --set "
                      "'drive.rms=50 A'")
                .code,
            0);
  const json a = result("a"), b = result("b");
  EXPECT_EQ(a["design"]["coil"]["turns"], 8.0);
  EXPECT_EQ(b["design"]["coil"]["turns"], 6.0);
  EXPECT_EQ(b["states"][0]["drive"]["current_rms_A"], 50.0);
  EXPECT_EQ(b["title"], "Bar, coil.turns = 6, drive.rms = 50 A");
  EXPECT_NE(a["case_sha256"], b["case_sha256"]);
  EXPECT_EQ(in_folder("$P check bar.toml --set coil.turns=abc --set coil.trns=3 --set turns").text,
            "--set: found \"turns\"; allowed: KEY=VALUE; write for example --set coil.turns=9\n");
  const cw::Shell wrong =
      in_folder("$P check bar.toml --set coil.turns=abc --set coil.trns=3 --set title.x=1");
  EXPECT_EQ(wrong.code, 2);
  EXPECT_NE(wrong.text.find("--set coil.turns: found the text \"abc\""), std::string::npos)
      << wrong.text;
  EXPECT_NE(wrong.text.find("--set coil.trns: found the key \"trns\", not known here"),
            std::string::npos)
      << wrong.text;
  EXPECT_NE(wrong.text.find("--set title.x: found no key for the value \"1\""), std::string::npos)
      << wrong.text;
}

// A dash means a case from standard input: checked, solved into a directory with a fixed name, and
// called standard input in messages.
TEST_F(ProgramOptions, DashIsStandardInput) {
  const cw::Shell sound = in_folder("$P new | $P check -");
  EXPECT_EQ(sound.code, 0);
  EXPECT_EQ(sound.text, "standard input: nothing wrong found\n");
  EXPECT_EQ(in_folder("sed 's/8/\"8\"/' bar.toml | $P check -").text,
            "standard input:7:1: coil.turns: found the text \"8\"; allowed: a plain number without "
            "quotes; write 8\n");
  ASSERT_EQ(in_folder("grep -v title bar.toml | $P run - --accuracy fast --quiet").code, 0);
  EXPECT_EQ(result("stdin-results")["title"], "Case from standard input");
}

// check --json lists every mistake with file, line, column, key, the value found, and the message;
// none for a correct case. If there is no file the output still is JSON. Exit codes are the same.
TEST_F(ProgramOptions, CheckAsJson) {
  std::ofstream(folder_ / "wrong.toml") << std::regex_replace(
      std::regex_replace(std::string(bar), std::regex("turns = 8"), "turns = \"8\""),
      std::regex("\"100 A\""), "100");
  const cw::Shell wrong = in_folder("$P check wrong.toml --json");
  EXPECT_EQ(wrong.code, 2);
  const json told = json::parse(wrong.text);
  ASSERT_EQ(told["mistakes"].size(), 2U) << wrong.text;
  EXPECT_EQ(
      told["mistakes"][0],
      json({{"file", "wrong.toml"},
            {"line", 7},
            {"column", 1},
            {"key", "coil.turns"},
            {"found", "the text \"8\""},
            {"message", "found the text \"8\"; allowed: a plain number without quotes; write 8"}}));
  EXPECT_EQ(told["mistakes"][1]["line"], 14);
  const cw::Shell sound = in_folder("$P check bar.toml --json");
  EXPECT_EQ(sound.code, 0);
  EXPECT_EQ(json::parse(sound.text)["mistakes"], json::array());
  const cw::Shell absent = in_folder("$P check absent.toml --json");
  EXPECT_EQ(absent.code, 2);
  EXPECT_EQ(json::parse(absent.text)["mistakes"].size(), 1U) << absent.text;
}

// For an unknown command, option or word the message suggests the nearest.
TEST_F(ProgramOptions, NamesTheNearest) {
  const auto answers = [&](const std::string& typed, const std::string& end) {
    const cw::Shell said = in_folder("$P " + typed);
    EXPECT_EQ(said.code, 2) << typed;
    EXPECT_TRUE(said.text.ends_with(end + "\n")) << said.text;
  };
  answers("chekc bar.toml", "; write check");
  answers("rnu", "; write run");
  answers("frobnicate", "; `coilwright --help` lists them with their purpose");
  answers("run bar.toml --acuracy fast", "; write --accuracy");
  answers("sweep bar.toml --rnak=-efficiency", "; write --rank");
  answers("--versoin", "; write --version");
  answers("run bar.toml --accuracy fats",
          "found \"fats\"; allowed: fast, normal, fine; write fast; `coilwright run --help` lists "
          "its arguments");
  answers("run bar.toml other.toml", "; `coilwright run --help` lists its arguments");
  answers("run", "; `coilwright run --help` lists its arguments");
}

// Without arguments, and with --help, the program says what it is, shows three commands to begin
// with and every command once by task, within 80 columns.
TEST_F(ProgramOptions, WelcomesWithFirstSteps) {
  const cw::Shell bare = in_folder("$P"), help = in_folder("$P --help");
  EXPECT_EQ(bare.code, 0);
  EXPECT_EQ(bare.text, help.text);
  EXPECT_LE(size_of(bare.text).second, 80U) << bare.text;
  for (const char* words : {"First steps\n  coilwright new > bar.toml", "Write a case\n",
                            "Solve it\n", "Choose a design\n", "At the bench\n", "Examples\n"})
    EXPECT_NE(bare.text.find(words), std::string::npos) << words << bare.text;
  const cw::Shell of_run = in_folder("$P run --help");
  EXPECT_NE(of_run.text.find("coilwright run bar.toml --set coil.turns=9"), std::string::npos)
      << of_run.text;
}

// The help of every command is within 80 columns, and begins with how the command is typed.
TEST_F(ProgramOptions, HelpFitsOnATerminal) {
  for (const char* command : {"new", "check", "materials", "round", "run", "live", "metals",
                              "report", "design", "sweep", "supply", "tolerance", "compare"}) {
    const cw::Shell help = in_folder(std::string("$P ") + command + " --help");
    EXPECT_EQ(help.code, 0) << command;
    EXPECT_TRUE(help.text.starts_with(std::string("coilwright ") + command)) << help.text;
    EXPECT_LE(size_of(help.text).second, 80U) << help.text;
  }
}

// Mistakes are one line each for a program that reads them; on a terminal they are wrapped.
TEST_F(ProgramOptions, MistakesFitOnATerminal) {
  if (cw::shell("script -qec true /dev/null").code != 0)
    GTEST_SKIP() << "script is not installed: no terminal of its own";
  std::ofstream(folder_ / "odd.toml") << "[odd]\nmaterial = \"coper-tube\"\n";
  const cw::Shell piped = in_folder("$P check odd.toml"),
                  shown = in_folder("export P; script -qec '$P check odd.toml' /dev/null");
  EXPECT_GT(size_of(piped.text).second, 80U) << piped.text;
  EXPECT_LE(size_of(shown.text).second, 81U) << shown.text;  // a terminal ends a line by two bytes
  EXPECT_NE(shown.text.find("not known here"), std::string::npos) << shown.text;
}

// Colours appear only on a terminal, and not if NO_COLOR is set or TERM is dumb. A case with a
// target has a coloured verdict.
TEST_F(ProgramOptions, ColoursOnATerminalAlone) {
  if (cw::shell("script -qec true /dev/null").code != 0)
    GTEST_SKIP() << "script is not installed: no terminal of its own";
  std::ofstream(folder_ / "hot.toml") << bar << "[heat]\ntarget = \"60 degC\"\nuntil = \"5 s\"\n";
  const std::string run = "$P run hot.toml --accuracy fast --out out 2>/dev/null";
  const auto coloured = [&](const std::string& before, const std::string& command) {
    const cw::Shell said = in_folder("export P; " + before + " " + command);
    EXPECT_EQ(said.code, 0) << said.text;
    return said.text.find('\033') != std::string::npos;
  };
  const std::string terminal = "script -qec '" + run + "' /dev/null";
  EXPECT_TRUE(coloured("env -u NO_COLOR TERM=xterm", terminal));
  EXPECT_FALSE(coloured("env NO_COLOR=1 TERM=xterm", terminal));
  EXPECT_FALSE(coloured("env -u NO_COLOR TERM=dumb", terminal));
  EXPECT_FALSE(coloured("env -u NO_COLOR TERM=xterm sh -c", "'" + run + "'"));
}

// A starter case names the schema of case files for editors; the file exists and contains its own
// name.
TEST_F(ProgramOptions, StarterNamesTheSchema) {
  const std::string first = in_folder("$P new | head -1").text;
  const std::string start = "#:schema file://";
  ASSERT_TRUE(first.starts_with(start)) << first;
  std::ifstream schema(first.substr(start.size(), first.size() - start.size() - 1));
  EXPECT_TRUE(std::string(json::parse(schema)["$id"]).ends_with("/case.schema.json"));
}

// A directory of an older format is refused with the command that renews it; its page is not
// changed.
TEST_F(ProgramOptions, ReportRefusesAnOlderFormat) {
  ASSERT_EQ(in_folder("$P run bar.toml --accuracy fast --quiet --out out").code, 0);
  ASSERT_EQ(
      in_folder("sed -i 's/coilwright-result-[0-9]*/coilwright-result-1/' out/result.json; cp "
                "out/report.html before")
          .code,
      0);
  const cw::Shell report = in_folder("$P report out");
  EXPECT_EQ(report.code, 2);
  EXPECT_NE(report.text.find("found \"format\": \"coilwright-result-1\""), std::string::npos);
  EXPECT_NE(report.text.find("`coilwright run CASE.toml --out out`"), std::string::npos)
      << report.text;
  EXPECT_EQ(in_folder("cmp before out/report.html").code, 0);
  EXPECT_EQ(in_folder("$P run bar.toml --accuracy fast --quiet --out out").code, 0);
}

// Answers about a heater without a run state the voltage of the coil and the line on local rules.
TEST_F(ProgramOptions, OtherAnswersCarryTheCautions) {
  std::ofstream(folder_ / "tank.toml") << std::regex_replace(
      std::string(bar), std::regex("\\[drive\\][^$]*"),
      "[tank]\ncapacitance = \"2 uF\"\n[drive]\nkind = \"push-pull\"\nsupply = "
      "\"24 V\"\nchoke = { count = 2, inductance = \"150 uH\" }\n");
  std::ofstream(folder_ / "sweep.toml")
      << bar << "[sweep]\nvary = [{ key = \"coil.turns\", values = [7, 8] }]\n";
  std::ofstream(folder_ / "readings.toml")
      << "empty_inductance = \"0.98 uH\"\nempty_frequency = \"113 kHz\"\n";
  for (const char* command :
       {"supply tank.toml", "tolerance tank.toml", "compare tank.toml readings.toml",
        "sweep sweep.toml --accuracy fast --out s"}) {
    const cw::Shell said = in_folder(std::string("$P ") + command);
    EXPECT_EQ(said.code, 0) << command << said.text;
    EXPECT_NE(said.text.find("Voltage: above about 24 V DC"), std::string::npos) << said.text;
    EXPECT_NE(said.text.find("not a safety approval"), std::string::npos) << said.text;
  }
}

}  // namespace
