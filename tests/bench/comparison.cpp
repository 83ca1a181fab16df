#include "tests/bench/comparison.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "solver/field/frequency_sweep.hpp"
#include "tests/bench/fixed_mesh.hpp"
#include "tests/bench/in_turns.hpp"
#include "tests/bench/seven_turns.hpp"

namespace cw::bench {

namespace {

constexpr Frequency low{10e3}, middle{100e3}, high{400e3};
constexpr int sweep_points = 30;

Frequency sweep_frequency(int k) {
  return {low.hertz *
          std::pow(high.hertz / low.hertz, static_cast<double>(k) / (sweep_points - 1))};
}

/// Largest error of R against a direct solve over the sweep, relative.
double sweep_error(EddySystem& system, const TurnSet& turns, const FrequencySweep& sweep) {
  double largest = 0;
  for (int k = 0; k < sweep_points; ++k) {
    const Frequency f = sweep_frequency(k);
    const SeriesCoil direct = connect_in_series(system, turns, solve_turns(system, turns, f));
    largest = std::max(largest, std::abs(sweep.impedance(f).real() / direct.impedance.real() - 1));
  }
  return largest;
}

double percent(double value, double reference) {
  return 100 * std::abs(value / reference - 1);
}

/// Each stage at its median.
Evaluation median_evaluation(const Sizing& sizing, int repeats) {
  std::vector<Evaluation> runs;
  runs.reserve(repeats);
  for (int k = 0; k < repeats; ++k) runs.push_back(evaluate_by_stages(sizing, middle));
  Evaluation e = runs.front();
  for (const auto stage : {&Evaluation::mesh, &Evaluation::assembly, &Evaluation::factorisation,
                           &Evaluation::solution, &Evaluation::losses, &Evaluation::whole}) {
    std::vector<double> times;
    times.reserve(runs.size());
    for (const Evaluation& run : runs) times.push_back(run.*stage);
    e.*stage = Times::median(times);
  }
  return e;
}

}  // namespace

void print_ratios() {
  fmt::print("\nRatios\n");
  const FixedMesh yardstick = make_fixed_mesh();
  const Evaluation size = evaluate({}, middle);
  in_turns(
      15, [] { evaluate({}, middle); }, [] { make_fixed_mesh(); })
      .print("whole evaluation / yardstick mesh");
  fmt::print(
      "  evaluation: {} unknowns, 100 kHz; yardstick: {} unknowns, second order, meshing alone\n",
      size.unknowns, yardstick.unknowns);

  const Mesh mesh = generate_mesh(SevenTurns::section(high));
  EddySystem system(mesh, SevenTurns::media());
  const TurnSet turns = SevenTurns::turns();
  const auto sweep_all = [&] {
    const FrequencySweep sweep(system, turns, low, high);
    for (int k = 0; k < sweep_points; ++k) (void)sweep.impedance(sweep_frequency(k));
  };
  const auto five_direct = [&] {
    for (int k = 0; k < 5; ++k)
      connect_in_series(system, turns, solve_turns(system, turns, sweep_frequency(7 * k)));
  };
  in_turns(15, sweep_all, five_direct)
      .print("sweep of 30 frequencies, 10-400 kHz / five direct solves");
  const FrequencySweep sweep(system, turns, low, high);
  double estimate = 0;
  for (int k = 0; k < sweep_points; ++k)
    estimate = std::max(estimate, sweep.error_estimate(sweep_frequency(k)));
  fmt::print(
      "  {} factorisation(s); R within {:.1e} of direct solves, estimated {:.1e}; {} unknowns\n",
      sweep.solves(), sweep_error(system, turns, sweep), estimate, system.unknowns());
}

void print_sizes() {
  constexpr std::array<double, 4> scales{1.0, 0.7, 0.5, 0.35};
  std::vector<Evaluation> rows;
  rows.reserve(scales.size());
  for (const double scale : scales)
    rows.push_back(median_evaluation(Sizing{}.scaled(scale), scale > 0.6 ? 9 : 3));
  fmt::print("\nSizes, 100 kHz; ms of processor time; errors against the last row\n");
  fmt::print("{:>6} {:>9} {:>7} {:>9} {:>7} {:>7} {:>7} {:>7}   {:>9} {:>9} {:>9}\n", "scale",
             "unknowns", "mesh", "assembly", "factor", "solve", "losses", "whole", "R", "L",
             "P rod");
  const Evaluation& finest = rows.back();
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const Evaluation& e = rows[k];
    fmt::print("{:6.2f} {:9} {:7.1f} {:9.1f} {:7.1f} {:7.1f} {:7.2f} {:7.1f}", scales[k],
               e.unknowns, e.mesh, e.assembly, e.factorisation, e.solution, e.losses, e.whole);
    if (k + 1 < rows.size())
      fmt::print("   {:7.4f} % {:7.4f} % {:7.4f} %\n", percent(e.resistance, finest.resistance),
                 percent(e.inductance, finest.inductance), percent(e.rod_power, finest.rod_power));
    else
      fmt::print("   {:.4g} ohm, {:.5g} H, {:.4g} W at 1 A\n", e.resistance, e.inductance,
                 e.rod_power);
  }
}

}  // namespace cw::bench
