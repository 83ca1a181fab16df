// The program when the machine, not the user, is at fault.
#include "tests/faults/bad_luck.hpp"

#include <gtest/gtest.h>

#include <string>

namespace cw::faults {
namespace {

/// The address sanitizer needs more memory than these tests leave.
constexpr bool takes_all_memory =
#ifdef __SANITIZE_ADDRESS__
    true;
#else
    false;
#endif

// Without memory it ends with 4, says what needs less memory, and leaves no files.
TEST_F(BadLuck, NoMemory) {
  if (takes_all_memory) GTEST_SKIP() << "the address sanitizer needs more itself";
  const Ended run = shell("ulimit -v 200000; $P run $C --out out");
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_TRUE(has(run.text, "memory")) << run.text;
  EXPECT_TRUE(left().empty());
}

// A file that reaches the size limit (as on a full disk): exit code 4, the message names the file,
// and no files are left.
TEST_F(BadLuck, FileSizeLimit) {
  const Ended run = shell("ulimit -f 20; $P run $C --out out");
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_TRUE(has(run.text, "out/")) << run.text;
  EXPECT_FALSE(has(run.text, ".part-")) << run.text;
  EXPECT_TRUE(left().empty());
}

// A full disk does not damage the earlier result; needs permission to mount a small one.
TEST_F(BadLuck, DiskFullKeepsTheEarlierResult) {
  const std::string own = cw::own_mounts();
  if (own.empty()) GTEST_SKIP() << cw::no_mounts;
  const Ended run = shell(
      "mkdir disk; " + own +
      " sh -c '"
      "mount -t tmpfs -o size=8m none disk || exit 77; $0 run $1 --accuracy fast --out disk/out "
      "> /dev/null || exit 78; cp disk/out/result.json first; cat /dev/zero > disk/ballast "
      "2> /dev/null; $0 run $1 --accuracy fast --out disk/out; code=$?; cmp first "
      "disk/out/result.json "
      "|| exit 79; ls -A disk; exit $code' $P $C");
  if (run.code == 77) GTEST_SKIP() << cw::no_mounts << ": " << run.text;
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_FALSE(has(run.text, ".part-")) << run.text;
}

// However little memory is left once its libraries are loaded, it ends with 4 and leaves no files,
// or has enough. (With less, the libraries end the program.) Success with one amount does not imply
// success with the next: each thread reserves address space of its own if it still can.
TEST_F(BadLuck, EveryAmountOfMemory) {
  if (takes_all_memory) GTEST_SKIP() << "the address sanitizer needs more itself";
  int without = 0;
  for (int megabytes = 200; megabytes <= 290; megabytes += 15) {
    const Ended run = shell("ulimit -v " + std::to_string(megabytes * 1000) +
                            "; $P run $C --out out > /dev/null");
    EXPECT_TRUE(run.code == 4 || run.code == 0) << megabytes << " MB: " << run.code << run.text;
    if (run.code == 0) {
      fs::remove_all(folder_ / "out");
      continue;
    }
    ++without;
    EXPECT_TRUE(has(run.text, "memory")) << megabytes << " MB: " << run.text;
    EXPECT_TRUE(left().empty()) << megabytes << " MB left " << left().front();
  }
  EXPECT_GT(without, 0);
}

// In a folder that is not writable: exit code 4, the reason and what to do.
TEST_F(BadLuck, FolderIsNotWritable) {
  if (!fs::exists("/proc/self")) GTEST_SKIP() << "/proc is not mounted: root may write there";
  const Ended run = shell("$P run $C --out /proc/coilwright-out");
  EXPECT_EQ(run.code, 4);
  EXPECT_TRUE(has(run.text, "could not be written")) << run.text;
  EXPECT_TRUE(has(run.text, "give another directory with --out")) << run.text;
}

// A disk mounted read-only: the same; the earlier result stays.
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

// If the output cannot be written, the exit code says so.
TEST_F(BadLuck, OutputIntoAFullDevice) {
  if (!fs::is_character_file("/dev/full")) GTEST_SKIP() << "no /dev/full here";
  EXPECT_EQ(shell("$P materials > /dev/full").code, 4);
}

// If standard error is full, closed or has no reader, the exit code is unchanged.
TEST_F(BadLuck, StandardErrorCannotBeWritten) {
  std::ofstream("bad.toml") << "title = 3\n";
  EXPECT_EQ(shell("$P check bad.toml 2> /dev/full").code, 2);
  EXPECT_EQ(shell("$P check bad.toml 2>&-").code, 2);
  EXPECT_EQ(shell("$P nonsense 2> /dev/full").code, 2);
  EXPECT_EQ(shell("{ sleep 0.2; $P check bad.toml; echo $? > code; } 2>&1 | true; cat code").text,
            "2\n");
  EXPECT_EQ(shell("$P check $F 2> /dev/full").code, 0);
  EXPECT_EQ(shell("$P check bad.toml > /dev/full 2>&1").code, 2);
}

// A closed standard output counts as not writable, and no file gets its descriptor.
TEST_F(BadLuck, OutputClosed) {
  EXPECT_EQ(shell("$P materials >&-").code, 4);
  const Ended run = shell("$P run $C --out out 1>&- 2> said; code=$?; cat said; exit $code");
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_FALSE(has(read("out/result.json") + read("out/report.html"), "Report    "));
}

// Incomplete files of a killed run are removed by the next, also in another process namespace,
// where numbers start anew; those of a running program stay.
TEST_F(BadLuck, LeftoversOfAKilledRun) {
  const std::string dead = ".out.part-00000000000a", living = ".out.part-00000000000b";
  fs::create_directory(dead);
  fs::create_directory(living);
  ASSERT_EQ(shell("flock " + living + " $P run $C --out out").code, 0);
  EXPECT_FALSE(fs::exists(dead));
  EXPECT_TRUE(fs::exists(living));
}

// Runs with the same process number, in separate namespaces, into one directory: both succeed, and
// the result is intact.
TEST_F(BadLuck, SameProcessNumber) {
  const std::string own = "unshare -p -f ";
  if (shell(own + "true").code != 0) GTEST_SKIP() << "no process space of its own here";
  const Ended both = shell(own + "$P run $C --out out & p=$!; " + own +
                           "$P run $C --out out; b=$?; wait $p && exit $b");
  EXPECT_EQ(both.code, 0) << both.text;
  EXPECT_EQ(left(), std::vector<std::string>{"out"});
}

// A page made again on a full disk: exit code 4, the earlier page stays and no other file is left.
TEST_F(BadLuck, ReportOnAFullDisk) {
  ASSERT_EQ(shell("$P run $C --out out; cp -r out before").code, 0);
  const Ended report = shell("ulimit -f 20; $P report out");
  EXPECT_EQ(report.code, 4) << report.text;
  EXPECT_TRUE(has(report.text, "out/report.html: could not be written")) << report.text;
  EXPECT_TRUE(has(report.text, "the earlier one stays")) << report.text;
  EXPECT_EQ(shell("diff -r out before").code, 0);
}

// One Ctrl-C ends a run without heat at once, with 130 and no incomplete files, at any moment.
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

// After SIGTERM it ends, and leaves no incomplete result.
TEST_F(BadLuck, Terminated) {
  constexpr int timed_out = 124;  // of `timeout`
  int told = 0;
  for (const char* moment : {"0.02", "0.1", "0.2", "0.3"}) {
    const Ended run = shell("timeout -s TERM " + std::string(moment) + " $P run $C --out out");
    told += run.code == timed_out ? 1 : 0;
    if (!fs::exists("out")) continue;
    EXPECT_TRUE(fs::exists("out/result.json")) << moment;
    EXPECT_TRUE(fs::exists("out/report.html")) << moment;
  }
  EXPECT_GT(told, 0);
}

// Without its font the program uses another; without the database of units it ends with 3 and says
// what to install.
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

// The clock is set back by half a century during the run: the run succeeds, and no time is
// negative.
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

// A clock that stands still or runs backwards has no effect: times are only reported.
TEST_F(BadLuck, ClockOfAnotherCentury) {
  if (shell("command -v faketime").code != 0) GTEST_SKIP() << "faketime is not installed";
  const Ended run = shell(
      "export ASAN_OPTIONS=$ASAN_OPTIONS:verify_asan_link_order=0; "
      "faketime '1971-01-01 00:00:00' $P run $C --out out");
  EXPECT_EQ(run.code, 0) << run.text;
}

}  // namespace
}  // namespace cw::faults
