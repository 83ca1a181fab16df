// The program when the machine, not the user, goes wrong, and when the user means harm. Each is a
// process of its own. DEVELOPERS.md tables what happens.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "tests/shell.hpp"

namespace {

namespace fs = std::filesystem;

using Ended = cw::Shell;

class BadLuck : public testing::Test {
 protected:
  void SetUp() override {
    fs::create_directories(folder_);
    before_ = fs::current_path();
    fs::current_path(folder_);
  }
  void TearDown() override {
    fs::current_path(before_);
    fs::remove_all(folder_);
  }

  /// Runs a line of shell in the folder, with the program as $P, a quick case as $C and its file as
  /// $F.
  static Ended shell(const std::string& line) {
    return cw::shell("P='" COILWRIGHT_PROGRAM "'; C='" COILWRIGHT_EXAMPLES
                     "/aluminium-bar.toml --accuracy fast'; F='" COILWRIGHT_EXAMPLES
                     "/aluminium-bar.toml'; " +
                     line);
  }
  [[nodiscard]] std::vector<std::string> left() const {
    std::vector<std::string> names;
    for (const auto& entry : fs::directory_iterator(folder_))
      names.push_back(entry.path().filename().string());
    return names;
  }
  [[nodiscard]] static std::string read(const fs::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
  }

  fs::path folder_ =
      fs::temp_directory_path() / ("coilwright_bad_luck_" + std::to_string(::getpid()));
  fs::path before_;
};

/// The address sanitizer needs more memory than any of these tests leaves.
constexpr bool takes_all_memory =
#ifdef __SANITIZE_ADDRESS__
    true;
#else
    false;
#endif

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

// Without memory it ends with 4, says what would need less, and leaves nothing.
TEST_F(BadLuck, NoMemory) {
  if (takes_all_memory) GTEST_SKIP() << "the address sanitizer needs more itself";
  const Ended run = shell("ulimit -v 200000; $P run $C --out out");
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_TRUE(has(run.text, "memory")) << run.text;
  EXPECT_TRUE(left().empty());
}

// A file that may not grow (as on a full disk) ends with 4, names the file, and leaves nothing.
TEST_F(BadLuck, FilesMayNotGrow) {
  const Ended run = shell("ulimit -f 20; $P run $C --out out");
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_TRUE(has(run.text, "out/")) << run.text;
  EXPECT_FALSE(has(run.text, ".part-")) << run.text;
  EXPECT_TRUE(left().empty());
}

// A full disk keeps the earlier result, where this machine lets us mount a small one.
TEST_F(BadLuck, DiskFullKeepsTheEarlierResult) {
  const std::string own = cw::own_mounts();
  if (own.empty()) GTEST_SKIP() << cw::no_mounts;
  const Ended run = shell(
      "mkdir disk; " + own +
      " sh -c '"
      "mount -t tmpfs -o size=5m none disk || exit 77; $0 run $1 --accuracy fast --out disk/out "
      "> /dev/null || exit 78; cp disk/out/result.json first; cat /dev/zero > disk/ballast "
      "2> /dev/null; $0 run $1 --accuracy fast --out disk/out; code=$?; cmp first "
      "disk/out/result.json "
      "|| exit 79; ls -A disk; exit $code' $P $C");
  if (run.code == 77) GTEST_SKIP() << cw::no_mounts << ": " << run.text;
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_FALSE(has(run.text, ".part-")) << run.text;
}

// However little memory is left once its libraries are loaded, it ends with 4 and leaves nothing,
// or has enough. (Below that they end the program themselves.)
TEST_F(BadLuck, EveryAmountOfMemory) {
  if (takes_all_memory) GTEST_SKIP() << "the address sanitizer needs more itself";
  int without = 0;
  for (int megabytes = 200; megabytes <= 290; megabytes += 15) {
    const Ended run = shell("ulimit -v " + std::to_string(megabytes * 1000) +
                            "; $P run $C --out out > /dev/null");
    EXPECT_TRUE(run.code == 4 || run.code == 0) << megabytes << " MB: " << run.code << run.text;
    if (run.code == 0) continue;
    ++without;
    EXPECT_TRUE(has(run.text, "memory")) << megabytes << " MB: " << run.text;
    EXPECT_TRUE(left().empty()) << megabytes;
  }
  EXPECT_GT(without, 0);
}

// Where nobody may write it ends with 4, the reason and what to do.
TEST_F(BadLuck, NobodyMayWriteThere) {
  if (!fs::exists("/proc/self")) GTEST_SKIP() << "/proc is not mounted: root may write there";
  const Ended run = shell("$P run $C --out /proc/coilwright-out");
  EXPECT_EQ(run.code, 4);
  EXPECT_TRUE(has(run.text, "could not be written")) << run.text;
  EXPECT_TRUE(has(run.text, "give another directory with --out")) << run.text;
}

// A disk mounted for reading only: the same, the earlier result as it was.
TEST_F(BadLuck, ReadOnlyDisk) {
  const std::string own = cw::own_mounts();
  if (own.empty()) GTEST_SKIP() << cw::no_mounts;
  const Ended run = shell(
      "mkdir disk; " + own +
      " sh -c '"
      "mount -t tmpfs -o size=50m none disk || exit 77; $0 run $1 --accuracy fast --out disk/out "
      "> /dev/null || exit 78; cp disk/out/result.json first; mount -o remount,ro disk || exit 77; "
      "$0 run $1 --accuracy fast --out disk/out; code=$?; cmp first disk/out/result.json || exit "
      "79; "
      "exit $code' $P $C");
  if (run.code == 77) GTEST_SKIP() << cw::no_mounts << ": " << run.text;
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_TRUE(has(run.text, "disk/")) << run.text;
  EXPECT_TRUE(has(run.text, "give another directory with --out")) << run.text;
}

// A reader of the output that cannot take it is told by the exit code.
TEST_F(BadLuck, OutputIntoAFullDevice) {
  if (!fs::is_character_file("/dev/full")) GTEST_SKIP() << "no /dev/full here";
  EXPECT_EQ(shell("$P materials > /dev/full").code, 4);
}

// A standard error that is full, closed or left by its reader changes nothing of how it ends.
TEST_F(BadLuck, ComplaintsThatNobodyTakes) {
  std::ofstream("bad.toml") << "title = 3\n";
  EXPECT_EQ(shell("$P check bad.toml 2> /dev/full").code, 2);
  EXPECT_EQ(shell("$P check bad.toml 2>&-").code, 2);
  EXPECT_EQ(shell("$P nonsense 2> /dev/full").code, 2);
  EXPECT_EQ(shell("{ sleep 0.2; $P check bad.toml; echo $? > code; } 2>&1 | true; cat code").text,
            "2\n");
  EXPECT_EQ(shell("$P check $F 2> /dev/full").code, 0);
  EXPECT_EQ(shell("$P check bad.toml > /dev/full 2>&1").code, 2);
}

// A closed standard output counts as one that could not be written, and no file takes its place.
TEST_F(BadLuck, OutputClosed) {
  EXPECT_EQ(shell("$P materials >&-").code, 4);
  const Ended run = shell("$P run $C --out out 1>&- 2> said; code=$?; cat said; exit $code");
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_FALSE(has(read("out/result.json") + read("out/report.html"), "Report    "));
}

// A pipe in the place of a file is refused at once, whoever names it; standard input is read.
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

// A sweep reads standard input once and for all.
TEST_F(BadLuck, SweepOfStandardInput) {
  const Ended run = shell(
      "{ cat $F; echo; echo '[sweep]'; echo 'vary = [{ key = \"coil.turns\", values = [6, 7] }]'; "
      "} "
      "| timeout 300 $P sweep /dev/stdin --accuracy fast --out out");
  EXPECT_EQ(run.code, 0) << run.text;
  EXPECT_TRUE(fs::exists("out/designs.json"));
}

// A drawing with a script in it, as a folder from elsewhere may have, does not reach the page.
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

// Text of the user is text: no tag of it reaches the page, no escape of it the terminal.
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

// A file name with control characters does not reach the terminal as it is.
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

// A sweep replaces no file of a name it writes that is not of a sweep.
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

// What a killed run left half written goes with the next, also in another space of processes, where
// numbers begin anew; that of a living one stays.
TEST_F(BadLuck, LeftoversOfAKilledRun) {
  const std::string dead = ".out.part-00000000000a", living = ".out.part-00000000000b";
  fs::create_directory(dead);
  fs::create_directory(living);
  ASSERT_EQ(shell("flock " + living + " $P run $C --out out").code, 0);
  EXPECT_FALSE(fs::exists(dead));
  EXPECT_TRUE(fs::exists(living));
}

// Runs with the same process number, from spaces of their own, into one directory: both end well
// and leave the result alone.
TEST_F(BadLuck, SameProcessNumber) {
  const std::string own = "unshare -p -f ";
  if (shell(own + "true").code != 0) GTEST_SKIP() << "no process space of its own here";
  const Ended both = shell(own + "$P run $C --out out & p=$!; " + own +
                           "$P run $C --out out; b=$?; wait $p && exit $b");
  EXPECT_EQ(both.code, 0) << both.text;
  EXPECT_EQ(left(), std::vector<std::string>{"out"});
}

// A page made again on a full disk: exit 4, the earlier page as it was and nothing beside it.
TEST_F(BadLuck, ReportOnAFullDisk) {
  ASSERT_EQ(shell("$P run $C --out out; cp -r out before").code, 0);
  const Ended report = shell("ulimit -f 20; $P report out");
  EXPECT_EQ(report.code, 4) << report.text;
  EXPECT_TRUE(has(report.text, "out/report.html: could not be written")) << report.text;
  EXPECT_TRUE(has(report.text, "the earlier one stays")) << report.text;
  EXPECT_EQ(shell("diff -r out before").code, 0);
}

// A link in the place of a file is replaced, never written through.
TEST_F(BadLuck, LinksInThePlaceOfFiles) {
  ASSERT_EQ(shell("$P run $C --out out").code, 0);
  std::ofstream("victim") << "mine";
  fs::remove("out/report.html");
  fs::create_symlink("../victim", "out/report.html");
  ASSERT_EQ(shell("$P report out").code, 0);
  EXPECT_EQ(read("victim"), "mine");
  EXPECT_FALSE(fs::is_symlink("out/report.html"));
}

// Ctrl-C once ends a run without heat at once, with 130 and nothing half written, at any moment.
TEST_F(BadLuck, CtrlC) {
  int stopped = 0;
  for (const char* moment : {"0.05", "0.1", "0.2", "0.3", "0.4", "0.6", "0.8"}) {
    const Ended run = shell("$P run $C --out out & p=$!; sleep " + std::string(moment) +
                            "; kill -INT $p; wait $p");
    EXPECT_TRUE(run.code == 130 || run.code == 0) << moment << ": " << run.code << run.text;
    stopped += run.code == 130 ? 1 : 0;
    const auto names = left();
    EXPECT_TRUE(names.empty() || names == std::vector<std::string>{"out"}) << moment;
    EXPECT_EQ(fs::exists("out/report.html"), !names.empty()) << moment;
  }
  EXPECT_GT(stopped, 0);
}

// Told to end, it ends, and no half result stands in the place of a result.
TEST_F(BadLuck, Terminated) {
  for (const char* moment : {"0.02", "0.1", "0.2", "0.3"}) {
    shell("timeout -s TERM " + std::string(moment) + " $P run $C --out out");
    if (!fs::exists("out")) continue;
    EXPECT_TRUE(fs::exists("out/result.json")) << moment;
    EXPECT_TRUE(fs::exists("out/report.html")) << moment;
  }
}

// Numbers beyond all sense are refused with their place, not computed with.
TEST_F(BadLuck, NumbersBeyondAllSense) {
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

// Without its face the lettering is drawn in another; without the database of units it ends with 3
// and says what to install.
TEST_F(BadLuck, FilesOfOtherPackagesMissing) {
  const Ended units = shell("UDUNITS2_XML_PATH=/nowhere/udunits2.xml $P run $C --out out");
  EXPECT_EQ(units.code, 3) << units.text;
  EXPECT_TRUE(has(units.text, "UDUNITS")) << units.text;
  std::ofstream("broken.xml") << "<unit-system><unit>";
  const Ended broken = shell("UDUNITS2_XML_PATH=$PWD/broken.xml $P run $C --out out");
  EXPECT_EQ(broken.code, 3) << broken.text;
  fs::remove("broken.xml");
  EXPECT_TRUE(left().empty());
  const std::string own = cw::own_mounts();
  if (own.empty()) GTEST_SKIP() << cw::no_mounts << ": all but the face of the lettering was tried";
  const Ended faceless = shell(own +
                               " sh -c 'mount -t tmpfs none /usr/share/fonts || exit 77; "
                               "$0 run $1 --accuracy fast --out out' $P $C");
  if (faceless.code == 77) GTEST_SKIP() << cw::no_mounts << ": " << faceless.text;
  EXPECT_EQ(faceless.code, 0) << faceless.text;
  EXPECT_TRUE(fs::exists("out/pictures/field.png"));
}

// A clock that is set back by half a century while it runs: the run ends well, no time is negative.
TEST_F(BadLuck, ClockSetBackMeanwhile) {
  if (shell("command -v faketime").code != 0) GTEST_SKIP() << "faketime is not installed";
  const Ended run = shell(
      "echo '+0' > clock; export DONT_FAKE_MONOTONIC=1 FAKETIME_NO_CACHE=1 "
      "ASAN_OPTIONS=$ASAN_OPTIONS:verify_asan_link_order=0 "
      "FAKETIME_TIMESTAMP_FILE=$PWD/clock LD_PRELOAD=$(ls /usr/lib/*/faketime/libfaketime.so.1); "
      "$P run $C --json --out out > result.json & p=$!; env -u LD_PRELOAD sleep 0.2; "
      "echo '-50y' > clock; wait $p");
  EXPECT_EQ(run.code, 0) << run.text;
  const std::string result = read("result.json");
  const std::size_t timing = result.find("\"timing\"");
  ASSERT_NE(timing, std::string::npos) << result;
  EXPECT_FALSE(has(result.substr(timing, result.find('}', timing) - timing), "-")) << result;
}

// A clock that stands still or runs back does no harm: times are only reported.
TEST_F(BadLuck, ClockOfAnotherCentury) {
  if (shell("command -v faketime").code != 0) GTEST_SKIP() << "faketime is not installed";
  const Ended run = shell(
      "export ASAN_OPTIONS=$ASAN_OPTIONS:verify_asan_link_order=0; "
      "faketime '1971-01-01 00:00:00' $P run $C --out out");
  EXPECT_EQ(run.code, 0) << run.text;
}

}  // namespace
