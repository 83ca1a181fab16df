// All the ways in which a sweep can end; the next run continues from there.
#include <fmt/format.h>
#include <sys/wait.h>

#include <chrono>
#include <csignal>
#include <random>
#include <thread>

#include "cases/run/run_case.hpp"
#include "cases/sweep/rank.hpp"
#include "tests/cases/sweep_program.hpp"

namespace cw::cases {
namespace {

/// The small sweep with more pitches, so that it takes long enough to be interrupted.
class SweepEnds : public SweepProgram {
 protected:
  static constexpr std::size_t long_designs = 64;

  void write_long_sweep() {
    std::string text = small_sweep;
    text.replace(text.find("count = 6"), 9, "count = 16");
    std::ofstream(folder_ / "small.toml") << text;
  }
  /// Every design has its row, and every twelfth the power it has alone.
  void expect_figures_of_single_runs() const {
    const auto all = rows();
    ASSERT_EQ(all.size(), long_designs);
    for (std::size_t k = 6; k < all.size(); k += 12) {
      if (all[k].outcome.status != DesignStatus::solved) continue;
      const Case design = read_case_text(small_sweep, folder_ / "small.toml", all[k].changes);
      const double alone = run_case(design, Effort::normal).result.states.at(0).power.total;
      EXPECT_NEAR(*figure_of(figures_of(all[k].outcome.result), "power.total_W"), alone,
                  2e-3 * alone)
          << spoken(all[k].changes);
    }
  }
  /// A separate file system for a shell: `commands` see it at the sweep's directory.
  [[nodiscard]] Shell on_a_small_disk(const std::string& size, const std::string& commands) const {
    fs::create_directories(out_);
    return shell(own_mounts() + " sh -c 'mount -t tmpfs -o size=" + size + " none " +
                 out_.string() + " || exit 77; " + commands + "'");
  }
};

/// Random times until the next kill, different in every run; printed after a failure.
class Moments {
 public:
  double next(double longest) {
    const double moment = std::uniform_real_distribution(0.0, longest)(engine_);
    said_ += fmt::format(" {:.3f}", moment);
    return moment;
  }
  [[nodiscard]] const std::string& said() const { return said_; }

 private:
  std::mt19937 engine_{std::random_device{}()};
  std::string said_ = "moments [s]:";
};

void pause(double seconds) {
  std::this_thread::sleep_for(std::chrono::duration<double>(seconds));
}

template <class Condition>
bool comes_true(const Condition& condition) {
  constexpr int tries = 12000;  // ten minutes, when the test is given up anyway
  for (int k = 0; k < tries; ++k) {
    if (condition()) return true;
    pause(0.05);
  }
  return false;
}

pid_t start(const std::string& command) {
  const pid_t process = ::fork();
  if (process == 0) {
    const std::string quiet = "exec env " + command + " >/dev/null 2>&1";  // it may set variables
    ::execl("/bin/sh", "sh", "-c", quiet.c_str(), nullptr);
    ::_exit(127);
  }
  return process;
}

std::vector<pid_t> children_of(pid_t process) {
  std::ifstream list(fmt::format("/proc/{0}/task/{0}/children", process));
  std::vector<pid_t> children;
  for (pid_t child = 0; list >> child;) children.push_back(child);
  return children;
}

/// Whether a process has ended, or is a zombie.
bool dead(pid_t process) {
  std::ifstream file(fmt::format("/proc/{}/stat", process));
  std::string line;
  if (!std::getline(file, line)) return true;
  return line.substr(line.rfind(')') + 2, 1) == "Z";
}

// kill -9 of the whole sweep at ten random moments, every other one just after an answer: nothing
// stored is lost or changed, no worker survives, and the last run completes the sweep. Its figures
// equal those of designs solved alone, within the accuracy of moved meshes (0.2 %).
TEST_F(SweepEnds, KilledTenTimes) {
  write_long_sweep();
  Moments moments;
  Stored kept;
  std::size_t unfinished = 0;
  for (int blow = 0; blow < 10; ++blow) {
    const pid_t process = start(command(2, "normal"));
    if (blow % 2 == 1) comes_true([&] { return stored().size() > kept.size() || dead(process); });
    pause(moments.next(0.2));
    const auto workers = children_of(process);
    ::kill(process, SIGKILL);
    ::waitpid(process, nullptr, 0);
    for (const pid_t worker : workers) EXPECT_TRUE(comes_true([&] { return dead(worker); }));
    const Stored now = stored();
    expect_kept(kept, now);
    kept = now;
    unfinished += kept.size() < long_designs ? 1 : 0;
  }
  EXPECT_GE(kept.size(), 5U) << moments.said();
  EXPECT_GE(unfinished, 5U) << moments.said();
  const Shell last = shell(command(2, "normal"));
  EXPECT_EQ(last.code, 0) << last.text;
  expect_kept(kept, stored());
  expect_figures_of_single_runs();
}

/// Starts in the background and waits until it has a worker; `p` is its process.
constexpr const char* workers_there =
    " & p=$!; list=/proc/$p/task/$p/children;"
    " until grep -q . $list || ! kill -0 $p; do sleep 0.01; done;";

// The death of a worker loses only its design: the sweep completes, says so, and the next run
// solves it.
TEST_F(SweepEnds, OneWorkerDies) {
  const Shell run = shell(command(1, "fine") + workers_there +
                          " sleep 0.1; kill -9 $(cut -d' ' -f1 $list); wait $p");
  EXPECT_EQ(run.code, 0) << run.text;
  auto counted = count();
  EXPECT_EQ(counted["crashed"], 1) << run.text;
  EXPECT_EQ(counted["solved"], designs - invalid - 1);
  EXPECT_NE(run.text.find("1 lost; the next run"), std::string::npos) << run.text;
  EXPECT_EQ(shell(command(2, "fine")).code, 0);
  expect_complete();
}

// Ctrl-C: exit code 130; solved designs are stored and shown, and the same command continues.
TEST_F(SweepEnds, CtrlC) {
  const Shell run = shell(command(1, "fine") + workers_there + " sleep 0.2; kill -INT $p; wait $p");
  EXPECT_EQ(run.code, 130) << run.text;
  EXPECT_NE(run.text.find("continues from here"), std::string::npos) << run.text;
  EXPECT_LT(rows().size(), static_cast<std::size_t>(designs));
  EXPECT_EQ(shell(command(2, "fine")).code, 0);
  expect_complete();
}

// Ctrl-C while a million designs are planned ends the sweep with a message that the same command
// continues, and leaves no incomplete files.
TEST_F(SweepEnds, CtrlCWhilePlanning) {
  std::string text = small_sweep;
  const std::size_t at = text.find("values = [2, 3, 4, 5]");
  text.replace(at, 21, "from = 2, to = 5, count = 1000");
  text.replace(text.find("count = 6"), 9, "count = 1000");
  std::ofstream(folder_ / "small.toml") << text;
  const std::string store = (out_ / "designs.sqlite").string();
  const Shell run = shell(command(1) + " & p=$!; until [ -e " + store +
                          " ]; do sleep 0.1; done; sleep 1; kill -INT $p; wait $p");
  EXPECT_EQ(run.code, 130) << run.text;
  EXPECT_NE(run.text.find("the same command continues from here"), std::string::npos) << run.text;
  EXPECT_EQ(run.text.find("designs.json:"), std::string::npos) << run.text;
}

// Two runs with one store, started together: every design is stored once.
TEST_F(SweepEnds, TwoRunsShareAStore) {
  const Shell both = shell(command(1) + " & p=$!; " + command(1) + "; b=$?; wait $p && exit $b");
  EXPECT_EQ(both.code, 0) << both.text;
  expect_complete();
}

// Ten runs with one complete store and ten pages made again, all at once: none fails, and no file
// is left beside those of a sweep.
TEST_F(SweepEnds, ManyRunsWriteAtOnce) {
  ASSERT_EQ(shell(command()).code, 0);
  const auto files = [&] {
    std::set<std::string> names;
    for (const auto& entry : fs::recursive_directory_iterator(out_))
      names.insert(entry.path().filename().string());
    return names;
  };
  const auto before = files();
  const Shell all =
      shell("for k in 1 2 3 4 5 6 7 8 9 10; do (" + command(1) + " && " + COILWRIGHT_PROGRAM +
            " report " + out_.string() + " || echo one failed) & done; wait");
  EXPECT_EQ(all.text.find("one failed"), std::string::npos) << all.text;
  EXPECT_EQ(files(), before);
}

// A directory that cannot be created: exit code 4 and what to do.
TEST_F(SweepEnds, DirectoryThatCannotBeMade) {
  if (!fs::exists("/proc/self")) GTEST_SKIP() << "/proc is not mounted: root may write there";
  out_ = "/proc/coilwright-sweep";
  const Shell run = shell(command());
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_NE(run.text.find("give another directory with --out"), std::string::npos) << run.text;
}

// A full disk: exit code 4 and what to do; solved designs stay, and with free space the same
// command completes the sweep.
TEST_F(SweepEnds, FullDisk) {
  if (own_mounts().empty()) GTEST_SKIP() << no_mounts;
  const auto copy = [&](const char* to) {
    return fmt::format("mkdir {0}/{1}; cp {2}/designs.sqlite* {0}/{1}/", folder_.string(), to,
                       out_.string());
  };
  const Shell run = on_a_small_disk(
      "200k", fmt::format("{0}; echo code $?; {1}; mount -o remount,size=50M {2}; {0}; echo code "
                          "$?; {3}",
                          command(), copy("full"), out_.string(), copy("after")));
  if (run.code == 77) GTEST_SKIP() << no_mounts << ": " << run.text;
  EXPECT_NE(run.text.find("the disk is full; designs solved so far are kept"), std::string::npos)
      << run.text;
  EXPECT_NE(run.text.find("code 4"), std::string::npos) << run.text;
  EXPECT_NE(run.text.find("code 0"), std::string::npos) << run.text;
  const Stored before = stored(folder_ / "full"), after = stored(folder_ / "after");
  EXPECT_GT(before.size(), 0U) << run.text;
  EXPECT_LT(before.size(), static_cast<std::size_t>(designs));
  EXPECT_EQ(after.size(), static_cast<std::size_t>(designs));
  expect_kept(before, after);
}

// A directory that becomes read-only in the middle of a sweep: exit code 4 and what to do, the
// store unchanged; once it is writable again the same command completes the sweep.
TEST_F(SweepEnds, ReadOnlyDirectory) {
  const std::string own = own_mounts();
  if (own.empty()) GTEST_SKIP() << no_mounts;
  write_long_sweep();
  const pid_t process = start(command(1, "normal"));
  comes_true([&] { return stored().size() > 2 || dead(process); });
  ::kill(process, SIGKILL);
  ::waitpid(process, nullptr, 0);
  const Stored before = stored();
  ASSERT_LT(before.size(), long_designs);
  const Shell run =
      shell(fmt::format("{2} sh -c 'mount --bind {0} {0} && mount -o "
                        "remount,ro,bind {0} || exit 77; {1}'",
                        out_.string(), command(), own));
  if (run.code == 77) GTEST_SKIP() << no_mounts << ": " << run.text;
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_NE(run.text.find("give another directory with --out"), std::string::npos) << run.text;
  EXPECT_EQ(stored(), before);
  EXPECT_EQ(shell(command(2, "normal")).code, 0);
  expect_kept(before, stored());
  EXPECT_EQ(stored().size(), long_designs);
}

// A file that is not a store is refused and not changed.
TEST_F(SweepEnds, ForeignStore) {
  fs::create_directories(out_);
  std::ofstream(out_ / "designs.sqlite")
      << "Letters of my grandmother, scanned. Keep. " << std::string(5000, 'x');
  const Shell run = shell(command());
  EXPECT_EQ(run.code, 4) << run.text;
  EXPECT_NE(run.text.find("is not a store of designs"), std::string::npos) << run.text;
  EXPECT_EQ(fs::file_size(out_ / "designs.sqlite"), 5042U);
}

/// The launcher, for any user including root.
std::string two_ranks() {
  // The launcher's library leaves memory behind, which the leak sanitizer would count as ours.
  return "ASAN_OPTIONS=$ASAN_OPTIONS:detect_leaks=0 OMPI_ALLOW_RUN_AS_ROOT=1 "
         "OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 timeout 120 mpirun "
         "--oversubscribe -np 2 ";
}

/// Why two ranks cannot be launched here; empty if they can.
std::string no_ranks() {
  if (shell("command -v mpirun").code != 0) return "mpirun is not installed";
  const Shell launch = shell(two_ranks() + "true");
  return launch.code == 0 ? "" : "mpirun starts no two ranks here: " + launch.text;
}

// Two ranks share the designs; only rank 0 writes and prints.
TEST_F(SweepEnds, RunsOnTwoRanks) {
  if (const std::string why = no_ranks(); !why.empty()) GTEST_SKIP() << why;
  const Shell run = shell(two_ranks() + command(1));
  ASSERT_EQ(run.code, 0) << run.text;
  expect_complete();
  EXPECT_EQ(run.text.find("Small sweep"), run.text.rfind("Small sweep"));
}

/// Both ranks of a launch; each writes its process number to a file before it becomes the program.
std::string numbered(const std::string& folder, const std::string& command) {
  return two_ranks() + "sh -c 'echo $$ > " + folder + "/rank$OMPI_COMM_WORLD_RANK; exec " +
         command + "'";
}

// kill -9 of either rank ends the launch; nothing stored is lost, and the same command continues. A
// killed worker of the other rank loses only its design.
TEST_F(SweepEnds, LostRank) {
  if (const std::string why = no_ranks(); !why.empty()) GTEST_SKIP() << why;
  write_long_sweep();
  const auto victim = [&](int rank) {
    pid_t process = 0;
    std::ifstream(folder_ / fmt::format("rank{}", rank)) >> process;
    return process;
  };
  Moments moments;
  Stored kept;
  for (const int rank : {1, 0}) {
    const pid_t launch = start(numbered(folder_.string(), command(1, "normal")));
    comes_true([&] { return stored().size() > kept.size() + 2 || dead(launch); });
    ASSERT_GT(std::min(victim(0), victim(1)), 0) << "the launch ended before its ranks were up";
    const auto workers = children_of(victim(1));
    if (rank == 1 && !workers.empty()) {
      ::kill(workers.back(), SIGKILL);
      const std::size_t before = stored().size();
      EXPECT_TRUE(comes_true([&] { return stored().size() > before + 2; }));
      EXPECT_LE(count()["crashed"], 1);  // none if it was between two designs
    }
    pause(moments.next(0.1));
    ::kill(victim(rank), SIGKILL);
    int status = 0;
    ::waitpid(launch, &status, 0);
    EXPECT_FALSE(WIFEXITED(status) && WEXITSTATUS(status) == 0) << moments.said();
    expect_kept(kept, stored());
    kept = stored();
    EXPECT_LT(kept.size(), long_designs) << moments.said();
  }
  const Shell last = shell(two_ranks() + command(1, "normal"));
  EXPECT_EQ(last.code, 0) << last.text;
  expect_kept(kept, stored());
  EXPECT_EQ(stored().size(), long_designs);
}

}  // namespace
}  // namespace cw::cases
