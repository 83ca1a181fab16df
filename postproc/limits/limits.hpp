#pragma once

#include <optional>
#include <string>
#include <vector>

#include "postproc/result/result.hpp"
#include "solver/circuit/solve_tank.hpp"

namespace cw {

/// What data sheets and the builder say of the parts; an empty one is never invented.
struct Ratings {
  std::optional<double> can_current;     ///< of one can [A] rms
  std::optional<double> can_voltage;     ///< of one can [V] rms
  std::optional<double> switch_voltage;  ///< [V] peak
  std::optional<double> choke_current;   ///< where a choke saturates [A] peak
  std::optional<double> gate_time;       ///< to switch a transistor over [s]
  std::optional<double> fuse;            ///< rating of fuse or breaker [A]
  double turn_gap = 0.0;  ///< clear space between bare turns [m]; 0: one turn, or not known
  double conductor_perimeter = 0.0;               ///< outside, of coil and leads [m]
  std::optional<double> can_loss = {};            ///< heat one can may make [W]
  std::optional<double> can_reactive_power = {};  ///< of one can [var]
};

/// One solved state as the limits need it.
struct CircuitState {
  std::string name;
  const TankSolution* tank = nullptr;
  double coil_loss = 0.0;          ///< of the winding [W]
  double turn_voltage_peak = 0.0;  ///< largest of one turn [V]
};

/// From this share of a limit on a part is worth watching (common practice, no source); advice aims
/// below it.
inline constexpr double watch_from = 0.8;
/// stop from the whole limit on.
Verdict verdict_of(double fraction);

/// Everything that can give out, each at the state in which it is worst, nearest to its limit
/// first, then figures without a limit. Advice with a number is computed on the state's own local
/// model of the coil: no field is solved. Verdicts: watch from 0.8 of a limit, stop from 1. The
/// supply is judged by what it is asked for, the other parts by what runs.
std::vector<LimitResult> find_limits(const std::vector<CircuitState>& states,
                                     const TankCircuit& circuit, const Ratings& ratings);

/// Puts further rows in their place: nearest to its limit first, rows without a limit last.
void merge_limits(std::vector<LimitResult>& into, std::vector<LimitResult> further);

}  // namespace cw
