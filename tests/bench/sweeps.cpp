#include "tests/bench/sweeps.hpp"

#include <fmt/format.h>
#include <sys/resource.h>

#include <array>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "cases/run/run_case.hpp"
#include "cases/sweep/crew.hpp"
#include "cases/sweep/plan.hpp"
#include "cases/sweep/rank.hpp"
#include "cases/sweep/solve_design.hpp"
#include "tests/bench/seven_turns.hpp"

namespace cw::bench {

namespace {

using namespace cw::cases;

constexpr const char* grid = R"toml(
[sweep]
vary = [{ key = "coil.turns", values = [3, 4, 5, 6, 7, 8, 9, 10] },
        { key = "coil.pitch", from = "7 mm", to = "14 mm", count = 42 },
        { key = "workpiece.material", values = ["copper-pure", "aluminium-6061-t6", "brass-c26000"] }]
)toml";
constexpr const char* chisel_grid = R"toml(
[sweep]
vary = [{ key = "coil.turns", values = [7, 7.5, 8, 8.5, 9] },
        { key = "coil.pitch", values = ["7 mm", "7.5 mm", "8 mm", "8.5 mm"] },
        { key = "tank.capacitance", values = ["1.6 uF", "1.8 uF", "2 uF", "2.2 uF", "2.4 uF"] },
        { key = "drive.supply", values = ["24 V", "36 V"] }]
)toml";

std::string example(const char* name) {
  std::ostringstream text;
  text << std::ifstream(std::filesystem::path(COILWRIGHT_EXAMPLES) / name).rdbuf();
  const std::string all = text.str();
  return all.substr(0, all.find("[sweep]"));
}

struct Done {
  double seconds = 0.0;    ///< by the wall clock
  double processor = 0.0;  ///< of both workers [s]
  std::vector<DesignOutcome> outcomes;
};

/// Processor time of all children that have ended [s].
double children_s() {
  rusage used{};
  ::getrusage(RUSAGE_CHILDREN, &used);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(used.ru_utime) + seconds(used.ru_stime);
}

/// All designs on two processes.
Done solve_all(const CaseText& text, const std::vector<std::vector<Change>>& designs,
               SweepMethod method) {
  const Stopwatch watch;
  Done done;
  done.processor = -children_s();
  done.outcomes.resize(designs.size());
  {
    Crew crew(2, DesignSolver(text, Effort::normal));
    std::size_t next = 0, back = 0;
    while (back < designs.size()) {
      while (next < designs.size() && crew.free() > 0) {
        crew.give({next, order_for(designs[next], {method}, {})});
        ++next;
      }
      for (const Answer& answer : crew.collect(100)) {
        done.outcomes[answer.number] = outcome_of(answer.bytes);
        ++back;
      }
    }
  }
  done.processor += children_s();
  done.seconds = watch.wall_ms() / 1e3;
  return done;
}

/// Single runs from scratch, one after the other.
struct Singles {
  int count = 0;
  double seconds = 0.0, processor = 0.0;

  void run(const CaseText& text, const std::vector<Change>& design) {
    const Stopwatch watch;
    run_case(read_case_text(text.text, text.file, design), Effort::normal);
    seconds += watch.wall_ms() / 1e3;
    processor += watch.processor_ms() / 1e3;
    ++count;
  }
  void run_every(std::size_t step, std::size_t first, const CaseText& text,
                 const std::vector<std::vector<Change>>& designs) {
    for (std::size_t k = first; k < designs.size(); k += step) run(text, designs[k]);
  }
};

/// Time per design on two processes compared with a single run; the second figure is the ratio on
/// two idle cores, whatever the load of the machine.
void print_against(const char* what, const Done& done, const Singles& singles, double most) {
  const auto n = static_cast<double>(done.outcomes.size());
  const double run = singles.seconds / singles.count, design = done.seconds / n;
  fmt::print(
      "  {:<32} {:7.4f}   ({:.1f} / {:.1f} ms; at most {:.3g}; half the processor time: {:.4f})\n",
      what, design / run, 1e3 * design, 1e3 * run, most,
      0.5 * done.processor / n / (singles.processor / singles.count));
}

void print_differences(const Done& plain, const Done& fast) {
  constexpr std::array keys{"power.workpiece_W", "power.coil_W", "coil.inductance_H"};
  for (const char* key : keys) {
    double largest = 0;
    for (std::size_t k = 0; k < plain.outcomes.size(); ++k) {
      const double a = *figure_of(figures_of(plain.outcomes[k].result), key);
      const double b = *figure_of(figures_of(fast.outcomes[k].result), key);
      largest = std::max(largest, std::abs(b / a - 1));
    }
    fmt::print("  {:<20} differs by at most {:.3f} %\n", key, 100 * largest);
  }
}

}  // namespace

void print_grid_ratios() {
  const CaseText text{"grid.toml", example("bar-turns-and-pitch.toml") + grid};
  const auto designs = plan_designs(read_case_text(text.text, text.file));
  constexpr std::size_t every = 25;
  fmt::print("{} designs on two processes, by the wall clock\n", designs.size());
  Singles singles;
  singles.run_every(every, every / 2, text, designs);
  const Done plain = solve_all(text, designs, SweepMethod::plain);
  const Done fast = solve_all(text, designs, SweepMethod::fast);
  singles.run_every(every, every / 3, text, designs);
  print_against("plain / single run, a design", plain, singles, 0.3);
  fmt::print("  {:<32} {:7.4f}   ({:.2f} ms a design; at most {:.3f}; processor time: {:.4f})\n",
             "fast / plain", fast.seconds / plain.seconds,
             1e3 * fast.seconds / static_cast<double>(designs.size()), 1.0 / 6,
             fast.processor / plain.processor);
  print_differences(plain, fast);
}

void print_chisel_ratio() {
  const CaseText text{"chisel.toml", example("chisel-blank.toml") + chisel_grid};
  const auto designs = plan_designs(read_case_text(text.text, text.file));
  constexpr std::size_t every = 20;
  fmt::print("chisel blank, {} designs, all states, on two processes\n", designs.size());
  Singles singles;
  singles.run_every(every, every / 2, text, designs);
  const Done plain = solve_all(text, designs, SweepMethod::plain);
  singles.run_every(every, every / 3, text, designs);
  print_against("plain / single run, a design", plain, singles, 0.6);
}

namespace {

/// Seconds of a whole launch of a sweep.
double launch(int ranks, const std::string& case_text) {
  const auto folder = std::filesystem::temp_directory_path() / "coilwright-bench-ranks";
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "ranks.toml") << case_text;
  const Stopwatch watch;
  const double before = children_s();
  const int code =
      std::system(fmt::format("OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 mpirun "
                              "--oversubscribe -np {} {} sweep {} --jobs 1 --method plain --out {} "
                              ">/dev/null 2>&1",
                              ranks, COILWRIGHT_PROGRAM, (folder / "ranks.toml").string(),
                              (folder / "out").string())
                      .c_str());
  const double seconds = watch.wall_ms() / 1e3;
  fmt::print("  {} rank(s): {:6.1f} s, {:.1f} s of processor time{}\n", ranks, seconds,
             children_s() - before, code == 0 ? "" : " (failed)");
  std::filesystem::remove_all(folder);
  return seconds;
}

double efficiency_of_two(const std::string& case_text) {
  const double one = launch(1, case_text), two = launch(2, case_text);
  return one / two / 2;
}

}  // namespace

void print_rank_scaling() {
  if (std::system("command -v mpirun >/dev/null") != 0) return;
  fmt::print("ranks under mpirun, one process each, whole launch\n");
  fmt::print(" 200 designs of the chisel blank, a second each\n");
  fmt::print("  efficiency of two {:.3f} (at least 0.85)\n",
             efficiency_of_two(example("chisel-blank.toml") + chisel_grid));
  fmt::print(
      " 1,008 linear designs, hundredths of a second each: what launching and leading cost\n");
  fmt::print("  efficiency of two {:.3f}\n",
             efficiency_of_two(example("bar-turns-and-pitch.toml") + grid));
}

}  // namespace cw::bench
