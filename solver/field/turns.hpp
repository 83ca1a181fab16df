#pragma once

#include <Eigen/Core>
#include <span>
#include <string>
#include <vector>

#include "solver/field/eddy_system.hpp"
#include "solver/field/field_solution.hpp"

namespace cw {

/// How the current is distributed in a turn.
enum class TurnKind {
  massive,  ///< solid metal: sigma (V/(2 pi r) - j w A)
  uniform   ///< strands: the same current density everywhere; their eddy losses are computed
            ///< separately
};

/// The turns of a coil in order. Each ring region carries the share w = (winding turns)/(rings) of
/// the current and contributes w of its voltage, so that rings can represent part turns of a helix.
struct TurnSet {
  TurnKind kind = TurnKind::massive;
  std::vector<RegionId> region;
  std::vector<double> weight;      ///< one per turn, 0 < w <= 1
  std::vector<double> resistance;  ///< dc resistance of each turn [ohm], used when kind is uniform
  /// For strands, loss of each ring per mean square of the field across it [W m^2/A^2]. Only error
  /// estimates use it; without it they use the dc resistance alone.
  std::vector<double> proximity = {};
};

/// Response of the turns to unit excitation at one frequency: to 1 V each (massive) or 1 A each
/// (uniform).
struct TurnResponse {
  Frequency frequency;
  Eigen::MatrixXcd potential;  ///< unknowns by turns
  Eigen::MatrixXcd impedance;  ///< between rings [ohm], symmetric (reciprocity)
};

/// Factorises the system at `f` and solves one right-hand side per turn.
TurnResponse solve_turns(EddySystem& system, const TurnSet& turns, Frequency f);

/// The turns in series with 1 A rms at the terminals.
struct SeriesCoil {
  std::complex<double> impedance;                  ///< [ohm] of the rings
  std::vector<std::complex<double>> turn_voltage;  ///< of each ring [V] rms (not weighted)
  FieldSolution field;                             ///< for 1 A rms, phase 0
};
SeriesCoil connect_in_series(const EddySystem& system, const TurnSet& turns,
                             const TurnResponse& response);

/// The same field at another terminal current [A] rms.
FieldSolution scaled(const FieldSolution& field, std::complex<double> factor);

}  // namespace cw
