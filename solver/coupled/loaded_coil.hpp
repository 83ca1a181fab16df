#pragma once

#include <complex>
#include <memory>
#include <optional>
#include <vector>

#include "solver/circuit/helix.hpp"
#include "solver/circuit/leads.hpp"
#include "solver/circuit/strands.hpp"
#include "solver/field/error_estimate.hpp"
#include "solver/field/nonlinear_field.hpp"
#include "solver/field/turns.hpp"

namespace cw {

/// A winding for field and circuit: rings in the half-plane, and what rings leave out.
struct Winding {
  TurnSet turns;               ///< ring regions of the mesh; `resistance` may be left empty
  std::vector<double> radius;  ///< of each turn's centreline [m]
  /// The conductor of the turns, and that of the meshed rings. Rings that represent part turns lie
  /// closer together and are smaller in proportion, which keeps the crowding of current. The ratio
  /// of the isolated resistances corrects their resistance.
  RoundConductor conductor, ring_conductor;
  std::optional<Helix> helix;  ///< empty if the coil really consists of rings
  std::optional<LeadLoop> leads;
  std::optional<Bundle> strands;  ///< set when the turns are of kind uniform
};

/// The loaded coil at its terminals at one frequency, for 1 A rms: leads and helix correction
/// included.
struct LoadedCoil {
  Frequency frequency;
  double inductance = 0.0, resistance = 0.0;  ///< [H], [ohm], whole
  double winding_inductance = 0.0;            ///< of the rings alone [H]
  double conductor_resistance = 0.0;          ///< loss in the winding [ohm]
  double reflected_resistance = 0.0;          ///< loss in everything else in the field [ohm]
  double part_turn_resistance =
      0.0;  ///< share of conductor_resistance beyond that of the rings alone [ohm]
  double dc_resistance = 0.0;     ///< of the winding [ohm]
  double helix_correction = 0.0;  ///< [H]
  SeriesImpedance leads;
  std::vector<std::complex<double>>
      turn_voltage;                 ///< share of each ring in the terminal voltage [V] rms
  std::vector<double> turn_loss;    ///< of each ring, helix length and part turns included [W]
  std::vector<double> region_loss;  ///< by RegionId, rings as in the field [W]
  double energy = 0.0;              ///< of the rings' field, inside and outside the mesh [J]
  SeriesCoil series;                ///< for 1 A rms
  TurnResponse response;  ///< of the linear field; for a saturating load, of the equivalent linear
                          ///< one
  /// Set if a body saturates: all of the above then holds at this coil current alone.
  std::shared_ptr<const NonlinearCoil> saturated;

  /// At the terminals [ohm].
  [[nodiscard]] std::complex<double> impedance() const;
};

/// Solves the field of the winding at `f` and adds what the rings leave out:
/// - a ring of weight w carries w I, and its resistance appears as w^2 R, where w R is right: its
///   loss is divided by w;
/// - a ring smaller than the conductor of the turn: times the ratio of their isolated resistances
///   (exact for thin skins, where current density scales with the size);
/// - copper is longer by the helix: times sqrt(1 + (p/2 pi R)^2);
/// - the helix correction in air, and the leads with the run that closes the helix.
LoadedCoil solve_loaded_coil(EddySystem& system, const Winding& winding, Frequency f);

/// Figures of the rings in series at 1 A rms, from any method; massive turns only.
struct RingFigures {
  Frequency frequency;
  std::complex<double> impedance;             ///< of the rings [ohm]
  std::vector<std::complex<double>> voltage;  ///< of each ring [V] rms, not weighted
  std::vector<double> loss;                   ///< of each ring [W]
  std::vector<double> conductance;            ///< of each ring at direct current [S]
  double reflected = 0.0;                     ///< loss in everything else [W]
};

/// The same from the figures of the rings; without field and response.
LoadedCoil loaded_coil(const Winding& winding, const RingFigures& rings);

/// A coil whose load saturates.
struct SaturatingLoad {
  std::vector<SaturatingRegion> bodies;
  double surface_field = 0.0;            ///< guess [A/m] rms; 0: from the coil as a solenoid
  const NonlinearCoil* start = nullptr;  ///< solved nearby on the same mesh, or null
  NewtonLimits newton = {};
  SaturatingCoil* kept = nullptr;  ///< for the same mesh, bodies and winding; null: nothing is kept
  bool unchanged = false;          ///< `bodies` are those that `kept` solved last
  bool energy = true;              ///< whether LoadedCoil::energy is needed
};

/// The same at `current` [A] rms through the coil, with the permeability that follows from its
/// field; figures are for 1 A at that current. `system` needs no factorisation. Throws SolveError
/// if the field does not converge.
LoadedCoil solve_loaded_coil(const EddySystem& system, const Winding& winding,
                             const SaturatingLoad& load, Frequency f, double current);

/// The turns with the properties of strands: their resistance, and their proximity loss at `f`.
TurnSet turns_of(const EddySystem& system, const Winding& winding, Frequency f);

}  // namespace cw
