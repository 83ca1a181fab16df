#include "tests/bench/sweeps.hpp"

#include <fmt/format.h>

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
        { key = "drive.supply", values = ["24 V", "36 V"] }]
)toml";

std::string example(const char* name) {
  std::ostringstream text;
  text << std::ifstream(std::filesystem::path(COILWRIGHT_EXAMPLES) / name).rdbuf();
  const std::string all = text.str();
  return all.substr(0, all.find("[sweep]"));
}

struct Done {
  double seconds = 0.0;
  std::vector<DesignOutcome> outcomes;
};

/// All designs on two processes.
Done solve_all(const CaseText& text, const std::vector<std::vector<Change>>& designs,
               SweepMethod method) {
  const Stopwatch watch;
  Crew crew(2, DesignSolver(text, Effort::normal));
  Done done;
  done.outcomes.resize(designs.size());
  std::size_t next = 0, back = 0;
  while (back < designs.size()) {
    while (next < designs.size() && crew.free() > 0) {
      crew.give({next, order_for(designs[next], method)});
      ++next;
    }
    for (const Answer& answer : crew.collect(100)) {
      done.outcomes[answer.number] = outcome_of(answer.bytes);
      ++back;
    }
  }
  done.seconds = watch.wall_ms() / 1e3;
  return done;
}

/// Mean time of single runs from nothing, one after the other [s].
double single(const CaseText& text, const std::vector<std::vector<Change>>& designs,
              std::size_t step) {
  const Stopwatch watch;
  std::size_t count = 0;
  for (std::size_t k = step / 2; k < designs.size(); k += step, ++count)
    run_case(read_case_text(text.text, text.file, designs[k]), Effort::normal);
  return watch.wall_ms() / 1e3 / static_cast<double>(count);
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

void print_grid() {
  const CaseText text{"grid.toml", example("bar-turns-and-pitch.toml") + grid};
  const auto designs = plan_designs(read_case_text(text.text, text.file));
  constexpr std::size_t every = 25;
  const double before = single(text, designs, every);
  const Done plain = solve_all(text, designs, SweepMethod::plain);
  const Done fast = solve_all(text, designs, SweepMethod::fast);
  const double run = 0.5 * (before + single(text, designs, every));
  const auto n = static_cast<double>(designs.size());
  fmt::print("{} designs on two processes, by the wall clock\n", designs.size());
  fmt::print("  plain / single run, a design     {:7.4f}   ({:.1f} / {:.1f} ms; at most 0.3)\n",
             plain.seconds / n / run, 1e3 * plain.seconds / n, 1e3 * run);
  fmt::print("  fast / plain                     {:7.4f}   ({:.2f} ms a design; at most {:.3f})\n",
             fast.seconds / plain.seconds, 1e3 * fast.seconds / n, 1.0 / 6);
  print_differences(plain, fast);
}

void print_chisel() {
  const CaseText text{"chisel.toml", example("chisel-blank.toml") + chisel_grid};
  const auto designs = plan_designs(read_case_text(text.text, text.file));
  const double run = single(text, designs, 3);
  const Done plain = solve_all(text, designs, SweepMethod::plain);
  fmt::print("chisel blank, {} designs, all states: plain / single run {:.3f} (at most 0.6)\n",
             designs.size(), plain.seconds / static_cast<double>(designs.size()) / run);
}

void print_ranks() {
  if (std::system("command -v mpirun >/dev/null") != 0) return;
  const auto folder = std::filesystem::temp_directory_path() / "coilwright-bench-ranks";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "ranks.toml") << example("bar-turns-and-pitch.toml") << grid;
  double one = 0;
  fmt::print("ranks under mpirun, whole launch, {} designs\n", 1008);
  for (const int ranks : {1, 2}) {
    std::filesystem::remove_all(folder / "out");
    const Stopwatch watch;
    const int code =
        std::system(fmt::format("OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 mpirun "
                                "--oversubscribe -np {} {} sweep {} --out {} >/dev/null 2>&1",
                                ranks, COILWRIGHT_PROGRAM, (folder / "ranks.toml").string(),
                                (folder / "out").string())
                        .c_str());
    const double seconds = watch.wall_ms() / 1e3;
    if (ranks == 1) one = seconds;
    fmt::print("  {}: {:7.1f} s, efficiency {:.2f}{}\n", ranks, seconds, one / seconds / ranks,
               code == 0 ? "" : " (failed)");
  }
  std::filesystem::remove_all(folder);
}

}  // namespace

void print_sweep_ratios() {
  print_grid();
  print_chisel();
  print_ranks();
}

}  // namespace cw::bench
