#pragma once

#include <optional>

#include "materials/quantity.hpp"

namespace cw {

/// A conductor between tank and coil: a track of board copper, or a bar in air. Strap or solder on
/// top is a second layer of the same width.
struct FlatConductor {
  enum class Kind { board, bar };
  Kind kind = Kind::bar;
  double width = 0.0, thickness = 0.0, length = 0.0;  ///< [m]
  double solder = 0.0;  ///< thickness on top of the track [m]; 0: none
  double strap = 0.0;   ///< thickness of copper strap on top [m]
  int in_parallel = 1;  ///< equal ones that share the current
};

/// Resistivity of copper [ohm m], annealed, 1/58 ohm mm2/m at 20 degC and 0.00393/K: IEC 60028
/// (from memory); within 1 % up to 200 degC.
double copper_resistivity(Temperature t);

/// Resistivity of tin-lead solder, 63/37 [ohm m]: 0.145e-6 (common data-sheet figure, no source
/// read).
inline constexpr double solder_resistivity = 0.145e-6;

/// Series resistance of the whole conductor with skin effect [ohm]: the round tube of the same
/// perimeter and metal (see leads.hpp), with the solder in parallel. Crowding of current at the
/// edges is included only as far as the tube represents it: 10 to 40 % low for wide thin strip
/// (edge singularity of a thin strip, logarithmic in width over thickness).
double flat_resistance(const FlatConductor& c, Frequency f, Temperature t);

/// Share of the current that a solder layer on top carries, by sheet conductance: each layer counts
/// down to its own skin depth.
double solder_share(const FlatConductor& c, Frequency f, Temperature t);

/// Temperature of a conductor.
struct ConductorHeat {
  double resistance_ohm = 0.0;   ///< at its temperature, or at the softening point of solder if it
                                 ///< has no steady temperature
  double loss_W = 0.0;           ///< the same
  std::optional<double> rise_K;  ///< steady; empty when it passes 400 K or has no steady value
  std::optional<double>
      softens_s;  ///< from the surroundings' temperature to 183 degC; empty: never
};

/// Heat a conductor gives to still air at a temperature rise [W] per metre.
/// Board: the loss at which the published curve I = 0.048 dT^0.44 A^0.725 (A in square mils, outer
/// layer) holds: IPC-2221 (constants read in a secondary copy). Bar on edge: I = 7.73 A^0.5 p^0.39
/// (mm2, mm) for 50 K over 40 degC, Copper Development Association, publication 22, 1996, section
/// 10 (read); other rises by dT^1.22 (natural convection with radiation, from memory).
double heat_to_air(const FlatConductor& c, double rise);

/// At `current` [A] rms in still air of `air`.
ConductorHeat heat_of(const FlatConductor& c, double current, Frequency f, Temperature air);

/// Width at the same thickness that stays within `rise` [m]; empty when 1 m does not.
std::optional<double> width_for(const FlatConductor& c, double current, Frequency f, double rise);

}  // namespace cw
