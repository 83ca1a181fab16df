#pragma once

#include <functional>
#include <optional>

#include "solver/circuit/local_coil.hpp"
#include "solver/circuit/resonance.hpp"
#include "solver/circuit/tank_point.hpp"

namespace cw {

/// The loaded coil; each call solves the field and so is costly. R and L must be positive.
using CoilModel = std::function<CoilImpedance(const CoilPoint&)>;
/// The same if nothing saturates.
using LinearCoilModel = std::function<CoilImpedance(Frequency)>;

struct TankOptions {
  /// Where to start, with `value` left at zero; or a whole model (of the state before): the coil is
  /// solved again at its point, and its exponents are kept, those of the current only if it
  /// matters. Left out: 100 kHz and 100 A.
  std::optional<LocalCoil> start;
  /// Whether R and L depend on the current. If not, a change of only the current needs no new
  /// solution.
  bool current_matters = true;
  /// Largest relative change of frequency and coil current since the coil was last solved.
  double tolerance = 1e-3;
  /// Largest number of solutions of the coil, with and without the limit together.
  int max_evaluations = 24;
};

/// The operating point, or the reason why there is none.
struct TankSolution {
  std::optional<NoRing> no_ring;  ///< if set, the tank will not ring, and nothing else below is set
  TankPoint demand;               ///< without the supply limit; its supply_current_A is demand_A
  TankPoint running;              ///< with the limit in effect; all zero if the supply stopped
  SupplyAction action = SupplyAction::within_limit;
  /// As `running` (as `demand` if the supply stopped) with one can failed open; unset for a bank of
  /// fewer than two cans. From the local model: needs no further solution of the field.
  std::optional<TankPoint> one_can_open;
  LocalCoil coil;         ///< around the last point solved, for the next state's start
  int evaluations = 0;    ///< calls of the coil
  bool converged = true;  ///< false: max_evaluations reached before the tolerance

  /// The point whose figures are reported for tank, power and field: `running`, or `demand` if the
  /// supply stopped.
  [[nodiscard]] const TankPoint& shown() const;
};

/// The point at which a coil of this inductance [H] would ring with the tank without losses.
CoilPoint unloaded_point(const TankCircuit& circuit, double inductance);

/// Operating point of a self-oscillating drive on its tank at a set supply voltage. It satisfies
/// together: the frequency at which the tank has no reactance, the voltage from the supply, the
/// resulting current, and the coil at that frequency and current.
/// Each round solves the tank exactly (1e-12) on a local model of the coil, solves the coil there
/// and updates the model, until the point moves by less than `tolerance`. The result belongs to the
/// last model; its error is about tolerance times the error of the exponents (4e-5 at most in the
/// tests; the balance of power always closes to rounding). A coil that does not saturate takes 3
/// calls, one that does 3 or 4; 1 or 2 from a state like it; a folded supply up to 3 more. Throws
/// std::invalid_argument for impossible parts, or a coil without positive R and L.
TankSolution solve_tank(const TankCircuit& circuit, const CoilModel& coil,
                        const TankOptions& options = {});
TankSolution solve_tank(const TankCircuit& circuit, const LinearCoilModel& coil,
                        const TankOptions& options = {});
/// The same on a model of the coil that is taken as exact; solves no field.
TankSolution solve_tank(const TankCircuit& circuit, const LocalCoil& coil);

}  // namespace cw
