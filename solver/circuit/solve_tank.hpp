#pragma once

#include <functional>
#include <optional>

#include "solver/circuit/local_coil.hpp"
#include "solver/circuit/resonance.hpp"
#include "solver/circuit/tank_point.hpp"

namespace cw {

/// The loaded coil by solving the field; each call is taken as costly. R and L must be positive.
using CoilModel = std::function<CoilImpedance(const CoilPoint&)>;
/// The same where nothing saturates.
using LinearCoilModel = std::function<CoilImpedance(Frequency)>;

struct TankOptions {
  /// Where to ask first, with `value` left at zero; or a whole model (of the state before), whose
  /// value is asked again and whose exponents are kept, those of the current where it matters.
  /// Left out: 100 kHz and 100 A.
  std::optional<LocalCoil> start;
  /// Whether R and L change with the current; if not, a change of it alone asks nothing anew.
  bool current_matters = true;
  /// Largest relative change of frequency and coil current since the coil was last solved.
  double tolerance = 1e-3;
  /// Calls of the coil in all, limit on and off together.
  int max_evaluations = 24;
};

/// The operating point, or that there is none.
struct TankSolution {
  std::optional<NoRing> no_ring;  ///< set: the tank will not ring, and nothing else below is
  TankPoint demand;               ///< with the limit off; its supply_current_A is demand_A
  TankPoint running;              ///< after the limit acted; all zero when the supply stopped
  SupplyAction action = SupplyAction::within_limit;
  /// As `running` (as `demand` when the supply stopped) with one can gone open; unset for a bank
  /// of fewer than two cans. From the local model: costs no further solution of the field.
  std::optional<TankPoint> one_can_open;
  LocalCoil coil;         ///< around the last point solved, for the next state's start
  int evaluations = 0;    ///< calls of the coil
  bool converged = true;  ///< false: max_evaluations reached before the tolerance

  /// The point that tank, power and field stand for: `running`, or, where the supply stopped, what
  /// it was asked for.
  [[nodiscard]] const TankPoint& shown() const;
};

/// Where a coil of this inductance [H] would ring on the tank without any loss.
CoilPoint unloaded_point(const TankCircuit& circuit, double inductance);

/// Operating point of a self-oscillating drive on its tank at a set supply
/// voltage: the frequency at which the tank has no reactance, the voltage the supply gives it, the
/// current that follows, and the coil as it is at that frequency and current, all together.
///
/// The tank is solved exactly (1e-12) on a local model of the coil, the coil is solved there, the
/// model relearnt, until the point no longer moves by `tolerance`. The point returned is of the
/// last model; its error is about tolerance times the error of the exponents (4e-5 at most in the
/// tests, where the balance of power closes to rounding always). A coil that does not saturate
/// takes 3 calls, one that does 3 or 4; 1 or 2 from a state like it; a folded supply up to 3 more.
/// Throws std::invalid_argument for parts that cannot be, or a coil without positive R and L.
TankSolution solve_tank(const TankCircuit& circuit, const CoilModel& coil,
                        const TankOptions& options = {});
TankSolution solve_tank(const TankCircuit& circuit, const LinearCoilModel& coil,
                        const TankOptions& options = {});
/// The same on a model of the coil that is taken as exact; solves no field.
TankSolution solve_tank(const TankCircuit& circuit, const LocalCoil& coil);

}  // namespace cw
