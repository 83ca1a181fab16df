#pragma once

#include <chrono>
#include <ctime>
#include <memory>

#include "mesh/generate.hpp"
#include "solver/field/turns.hpp"

namespace cw::bench {

/// The problem of all figures here: aluminium rod, 24 mm across and 80 mm long, in seven turns of
/// 6.35 mm copper tube, wall 0.8 mm, pitch 9 mm, mean radius 25 mm (an invented set-up).
struct SevenTurns {
  static constexpr RegionId rod = 1;

  /// Layered for the frequency `top`.
  static Section section(Frequency top);
  static Media media();
  static TurnSet turns();
};

/// Processor time of this program and wall-clock time [ms]. Ratios use the first, which other load
/// disturbs least; everything measured here runs on one thread.
class Stopwatch {
 public:
  [[nodiscard]] double processor_ms() const;
  [[nodiscard]] double wall_ms() const;

 private:
  std::clock_t processor_ = std::clock();
  std::chrono::steady_clock::time_point wall_ = std::chrono::steady_clock::now();
};

/// One evaluation at one frequency from scratch, by stages [ms of processor time]; `solution`
/// includes the factorisation unless that is listed separately.
struct Evaluation {
  double mesh = 0, assembly = 0, factorisation = 0, solution = 0, losses = 0, whole = 0;
  int unknowns = 0;
  double resistance = 0, inductance = 0;  ///< [ohm], [H]
  double rod_power = 0;                   ///< at 1 A rms [W]
};
Evaluation evaluate(const Sizing& sizing, Frequency f);
/// The same, followed by another factorisation to separate it from the solution.
Evaluation evaluate_by_stages(const Sizing& sizing, Frequency f);

}  // namespace cw::bench
