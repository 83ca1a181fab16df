// The program with strange or malicious names, texts and files.
#include "tests/faults/bad_luck.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

namespace cw::faults {
namespace {

// A pipe instead of a file is refused at once, wherever it is named; standard input is read.
TEST_F(BadLuck, PipesInPlaceOfFiles) {
  std::string text = read(COILWRIGHT_EXAMPLES "/aluminium-bar.toml");
  std::ofstream("case.toml") << "[workpiece]\nmaterial = \"./pipe.toml\"\n";
  ASSERT_EQ(shell("mkfifo pipe.toml; mkdir -p out/pictures; mkfifo out/result.json").code, 0);
  for (const char* command : {"check pipe.toml", "check case.toml", "compare $F pipe.toml",
                              "report out", "sweep pipe.toml"}) {
    const Ended run = shell(std::string("timeout 20 $P ") + command);
    EXPECT_EQ(run.code, 2) << command << run.text;
    EXPECT_TRUE(has(run.text, "pipe") || has(run.text, "cannot be read")) << run.text;
  }
  EXPECT_EQ(shell("cat $F | timeout 20 $P check /dev/stdin").code, 0);
  const Ended twice = shell("cat $F | timeout 20 $P sweep /dev/stdin");
  EXPECT_TRUE(has(twice.text, "found no [sweep]")) << twice.text;
}

// A sweep reads standard input only once.
TEST_F(BadLuck, SweepOfStandardInput) {
  const Ended run = shell(
      "{ cat $F; echo; echo '[sweep]'; echo 'vary = [{ key = \"coil.turns\", values = [6, 7] }]'; "
      "} "
      "| timeout 300 $P sweep /dev/stdin --accuracy fast --out out");
  EXPECT_EQ(run.code, 0) << run.text;
  EXPECT_TRUE(fs::exists("out/designs.json"));
}

// A foreign drawing with a script does not get into the page.
TEST_F(BadLuck, ForeignDrawing) {
  ASSERT_EQ(shell("$P run $C --out out").code, 0);
  const std::string before = read("out/report.html");
  ASSERT_EQ(shell("sed -i 's|</svg>|<script>alert(1)</script></svg>|' out/pictures/field.svg").code,
            0);
  const Ended run = shell("$P report out");
  EXPECT_EQ(run.code, 2);
  EXPECT_TRUE(has(run.text, "out/pictures/field.svg: found <script>")) << run.text;
  EXPECT_EQ(read("out/report.html"), before);
}

// No control character of the command line or of a name reaches the terminal.
TEST_F(BadLuck, EscapesInArguments) {
  for (const char* command :
       {"report \"$(printf 'a\\033[31mb')\"", "check \"$(printf 'a\\033[31mb')\"",
        "materials \"$(printf '\\033[31m')\"", "run $F --accuracy \"$(printf '\\033[31m')\"",
        "run $C --out \"$(printf '\\033[31m')\"", "run $C --out \"$(printf '/proc/\\033[31m')\"",
        "round square \"$(printf '\\033[31m')\" --skin-depth '1 mm'"}) {
    const Ended run = shell(std::string("$P ") + command);
    EXPECT_FALSE(has(run.text, "\x1b")) << command << run.text;
    EXPECT_TRUE(has(run.text, "[31m")) << command << run.text;
  }
}

// A decimal comma in the locale changes no digit.
TEST_F(BadLuck, DecimalComma) {
  if (shell("mkdir comma; localedef -i de_DE -f UTF-8 comma/de_DE.UTF-8").code != 0)
    GTEST_SKIP() << "the package locales is not installed";
  ASSERT_EQ(shell("$P run $C --json --out one > a.json").code, 0);
  ASSERT_EQ(shell("LOCPATH=$PWD/comma LC_ALL=de_DE.UTF-8 $P run $C --json --out two > b.json").code,
            0);
  EXPECT_EQ(shell("grep -v _s\\\" a.json > a; grep -v _s\\\" b.json > b; cmp a b").code, 0);
}

// Text of the user stays text: none of its tags get into the page, none of its escapes to the
// terminal.
TEST_F(BadLuck, HostileTitle) {
  std::string text = read(COILWRIGHT_EXAMPLES "/aluminium-bar.toml");
  const std::size_t at = text.find("title"), end = text.find('\n', at);
  text.replace(at, end - at, "title = \"<script>alert(1)</script><img src=x onerror=alert(2)>\"");
  std::ofstream("hostile.toml") << text;
  const Ended run = shell("$P run hostile.toml --accuracy fast --out out");
  ASSERT_EQ(run.code, 0) << run.text;
  EXPECT_FALSE(has(run.text, "\x1b")) << run.text;
  const std::string page = read("out/report.html");
  EXPECT_FALSE(has(page, "<script>alert"));
  EXPECT_FALSE(has(page, "<img src=x"));
  EXPECT_FALSE(has(page, "\x1b"));
  EXPECT_TRUE(has(page, "&lt;script&gt;alert(1)"));
  EXPECT_FALSE(has(read("out/pictures/field.svg"), "<script"));
}

// Escape sequences in a text of a case are refused, and not repeated.
TEST_F(BadLuck, EscapesInATitle) {
  std::ofstream("hostile.toml") << "title = \"red \\u001b[31m\\u0007\"\n";
  const Ended check = shell("$P check hostile.toml");
  EXPECT_EQ(check.code, 2);
  EXPECT_TRUE(has(check.text, "control characters")) << check.text;
  EXPECT_FALSE(has(check.text, "\x1b")) << check.text;
}

// Control characters in a file name do not reach the terminal.
TEST_F(BadLuck, HostileFileName) {
  const Ended run = shell("printf 'x' > \"$(printf 'a\\033[31mb.toml')\"; $P check a*b.toml");
  EXPECT_EQ(run.code, 2);
  EXPECT_FALSE(has(run.text, "\x1b")) << run.text;
}

// A symbolic link as result directory is followed and stays a link.
TEST_F(BadLuck, SymbolicLink) {
  fs::create_directory("real");
  fs::create_directory_symlink("real", "link");
  ASSERT_EQ(shell("$P run $C --out link").code, 0);
  EXPECT_TRUE(fs::is_symlink("link"));
  EXPECT_TRUE(fs::exists("real/result.json"));
}

// A sweep does not replace files that have the names of its files but belong to others.
TEST_F(BadLuck, SweepBesideForeignFiles) {
  fs::create_directories("out/tables");
  std::ofstream("out/tables/designs.csv") << "my own table\n";
  const Ended run =
      shell("$P new sweep > sweep.toml; $P sweep sweep.toml --accuracy fast --out out");
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_TRUE(has(run.text, "tables/designs.csv")) << run.text;
  EXPECT_EQ(read("out/tables/designs.csv"), "my own table\n");
  EXPECT_FALSE(fs::exists("out/designs.sqlite"));
}

// A link with the name of a file is replaced; nothing is written through it.
TEST_F(BadLuck, LinksInThePlaceOfFiles) {
  ASSERT_EQ(shell("$P run $C --out out").code, 0);
  std::ofstream("victim") << "mine";
  fs::remove("out/report.html");
  fs::create_symlink("../victim", "out/report.html");
  ASSERT_EQ(shell("$P report out").code, 0);
  EXPECT_EQ(read("victim"), "mine");
  EXPECT_FALSE(fs::is_symlink("out/report.html"));
}

// Absurd numbers are refused with their place, not used in computations.
TEST_F(BadLuck, AbsurdNumbers) {
  const std::string text = read(COILWRIGHT_EXAMPLES "/aluminium-bar.toml");
  const std::size_t at = text.find("diameter"), end = text.find('\n', at);
  const auto line =
      1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n');
  for (const char* value : {"1e308 m", "1e-308 m", "nan mm", "inf mm", "-0 mm", "1e999 mm"}) {
    std::string other = text;
    other.replace(at, end - at, std::string("diameter = \"") + value + '"');
    std::ofstream("huge.toml") << other;
    const Ended check = shell("$P check huge.toml");
    EXPECT_EQ(check.code, 2) << value << check.text;
    EXPECT_TRUE(has(check.text, "huge.toml:" + std::to_string(line) + ":"))
        << value << ": " << check.text;
  }
}

}  // namespace
}  // namespace cw::faults
