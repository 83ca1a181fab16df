#include <benchmark/benchmark.h>
#include <fmt/core.h>
#include <malloc.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <string_view>
#include <vector>

#include "solver/field/frequency_sweep.hpp"
#include "tests/bench/comparison.hpp"
#include "tests/bench/fixed_mesh.hpp"
#include "tests/bench/heater.hpp"
#include "tests/bench/seven_turns.hpp"
#include "tests/bench/sweeps.hpp"

namespace {

using namespace cw;
using namespace cw::bench;

constexpr Frequency f{100e3};

/// The argument is the scale of the mesh in percent: 100, 70, 50, 35, each about twice the
/// unknowns.
Sizing sizing_of(const benchmark::State& state) {
  return Sizing{}.scaled(static_cast<double>(state.range(0)) / 100);
}

struct Prepared {
  Mesh mesh;
  EddySystem system;
  TurnSet turns = SevenTurns::turns();

  explicit Prepared(const Sizing& sizing, Frequency top = f)
      : mesh(generate_mesh(SevenTurns::section(top), sizing)), system(mesh, SevenTurns::media()) {}

  void count(benchmark::State& state) const { state.counters["unknowns"] = system.unknowns(); }
};

void meshing(benchmark::State& state) {
  for ([[maybe_unused]] auto _ : state)
    benchmark::DoNotOptimize(generate_mesh(SevenTurns::section(f), sizing_of(state)));
}

/// Order of elimination, pattern, symbolic analysis and the integrals.
void assembly(benchmark::State& state) {
  const Prepared p(sizing_of(state));
  for ([[maybe_unused]] auto _ : state) {
    EddySystem system(p.mesh, SevenTurns::media());
    benchmark::DoNotOptimize(system.unknowns());
  }
  p.count(state);
}

void factorisation(benchmark::State& state) {
  Prepared p(sizing_of(state));
  for ([[maybe_unused]] auto _ : state) p.system.factorise(f);
  p.count(state);
}

/// Seven right-hand sides.
void back_solves(benchmark::State& state) {
  Prepared p(sizing_of(state));
  p.system.factorise(f);
  const Eigen::MatrixXcd rhs = Eigen::MatrixXcd::Ones(p.system.unknowns(), 7);
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(p.system.solve(rhs));
  p.count(state);
}

void losses(benchmark::State& state) {
  Prepared p(sizing_of(state));
  const SeriesCoil coil = connect_in_series(p.system, p.turns, solve_turns(p.system, p.turns, f));
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(region_losses(p.mesh, coil.field));
  p.count(state);
}

void whole_evaluation(benchmark::State& state) {
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(evaluate(sizing_of(state), f));
}

void sweep_10_to_400_khz(benchmark::State& state) {
  Prepared p({}, {400e3});
  int solves = 0;
  for ([[maybe_unused]] auto _ : state)
    solves = FrequencySweep(p.system, p.turns, {10e3}, {400e3}).solves();
  p.count(state);
  state.counters["factorisations"] = solves;
}

void yardstick_mesh(benchmark::State& state) {
  for ([[maybe_unused]] auto _ : state) benchmark::DoNotOptimize(make_fixed_mesh());
}

void sizes(benchmark::internal::Benchmark* b) {
  for (const int percent : {100, 70, 50, 35}) b->Arg(percent);
  b->Unit(benchmark::kMillisecond)->MinTime(0.3);
}

BENCHMARK(yardstick_mesh)->Unit(benchmark::kMillisecond)->MinTime(0.3);
BENCHMARK(meshing)->Apply(sizes);
BENCHMARK(assembly)->Apply(sizes);
BENCHMARK(factorisation)->Apply(sizes);
BENCHMARK(back_solves)->Apply(sizes);
BENCHMARK(losses)->Apply(sizes);
BENCHMARK(whole_evaluation)->Apply(sizes);
BENCHMARK(sweep_10_to_400_khz)->Unit(benchmark::kMillisecond)->MinTime(0.3);

void stages() {
  benchmark::RunSpecifiedBenchmarks();
}

/// What can be asked for by name.
struct BenchSection {
  std::string_view name, what;
  void (*run)();
};

constexpr std::array sections = {
    BenchSection{"stages", "meshing, assembly, solution, each alone", stages},
    BenchSection{"yardstick", "one evaluation against a general mesher", print_ratios},
    BenchSection{"heater", "states and heating against one solution", print_heater_ratios},
    BenchSection{"sizes", "error against unknowns", print_sizes},
    BenchSection{"grid", "1,008 linear designs, plain and fast", print_grid_ratios},
    BenchSection{"chisel", "a steel blank, five states a design", print_chisel_ratio},
    BenchSection{"ranks", "one and two ranks", print_rank_scaling},
};

int refuse(std::string_view name) {
  fmt::print(stderr, "found \"{}\"; allowed: any of these, none for all of them\n", name);
  for (const BenchSection& s : sections) fmt::print(stderr, "  {:<10} {}\n", s.name, s.what);
  return 2;
}

}  // namespace

int main(int argc, char** argv) {
  // As the program does.
  mallopt(M_MMAP_THRESHOLD, 1 << 30);
  mallopt(M_TRIM_THRESHOLD, 1 << 30);
  std::setvbuf(stdout, nullptr, _IOLBF, 0);  // each line as it comes, through a pipe too
  benchmark::Initialize(&argc, argv);
  std::vector<const BenchSection*> wanted;
  for (int k = 1; k < argc; ++k) {
    const auto found = std::find_if(sections.begin(), sections.end(),
                                    [&](const BenchSection& s) { return s.name == argv[k]; });
    if (found == sections.end()) return refuse(argv[k]);
    wanted.push_back(&*found);
  }
  for (const BenchSection& s : sections)
    if (wanted.empty() || std::find(wanted.begin(), wanted.end(), &s) != wanted.end()) s.run();
  return 0;
}
