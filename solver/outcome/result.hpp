#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "materials/quantity.hpp"
#include "solver/heater/heater.hpp"
#include "solver/outcome/cooling_result.hpp"
#include "solver/outcome/heat_result.hpp"
#include "solver/outcome/parts_result.hpp"
#include "solver/outcome/verdict.hpp"

namespace cw {

// Results of a run, as plain data in SI units. An empty std::optional is left out of the JSON.
// Phasors are rms throughout; peak only where the name says so.

/// One ring of the coil, in winding order.
struct TurnResult {
  double r = 0.0, z = 0.0;   ///< centre of the ring [m]
  double weight = 1.0;       ///< winding turns that the ring represents, 0 < weight <= 1
  double voltage_rms = 0.0;  ///< part of the terminal voltage across this ring, weighted [V]
  double current_rms = 0.0;  ///< in the ring, weighted [A]
  double loss = 0.0;         ///< [W]
};

/// The loaded coil at its terminals: leads and helix correction included, joints not.
struct CoilResult {
  double inductance = 0.0;              ///< [H]
  double resistance = 0.0;              ///< [ohm]
  double conductor_resistance = 0.0;    ///< loss in the winding / I^2 [ohm]
  double reflected_resistance = 0.0;    ///< loss in everything else the field heats / I^2 [ohm]
  double part_turn_resistance = 0.0;    ///< added because rings represent part turns [ohm]
  double winding_inductance = 0.0;      ///< of the rings alone, loaded [H]
  double helix_correction = 0.0;        ///< inductance of the helix minus that of the rings [H]
  double lead_inductance = 0.0;         ///< [H]
  double lead_resistance = 0.0;         ///< [ohm]
  std::optional<double> dc_resistance;  ///< of the winding at its temperature, without leads [ohm]
  double winding_turns = 0.0;           ///< number of turns as wound
  double mean_radius = 0.0;             ///< of the ring centres [m]
  double length = 0.0;                  ///< along the axis, over the conductor [m]
  std::vector<TurnResult> turns;        ///< rings, in winding order
  std::optional<Temperature> temperature = {};  ///< of the copper in this state
};

/// What feeds the coil in this state.
struct DriveResult {
  std::string kind;          ///< of the topology, see kind_of()
  double frequency = 0.0;    ///< [Hz]
  double current_rms = 0.0;  ///< through the coil [A]
  double voltage_rms = 0.0;  ///< across coil and leads [V]
};

/// The ringing circuit.
struct TankResult {
  double voltage_rms = 0.0, voltage_peak = 0.0;  ///< [V]
  double current_rms = 0.0;                      ///< through the coil [A]
  double capacitor_current_rms = 0.0;            ///< of the whole bank [A]
  double reactive_power = 0.0;                   ///< V^2 w C [var]
  double loaded_q = 0.0;                         ///< V_rms I_coil / (total power from the tank)
};

/// The DC side.
struct SupplyResult {
  double voltage = 0.0, current = 0.0;  ///< at its terminals, with its limit in effect [V], [A]
  double demand = 0.0;                  ///< current that the tank would draw without a limit [A]
  double power = 0.0;                   ///< including the internal loss of a battery [W]
  bool limited = false;
};

/// Joule heat per volume inside a body [W/m^3].
struct PowerDensity {
  double lowest = 0.0, mean = 0.0, highest = 0.0;
};

/// Where the power goes; the parts add up to `total` [W].
struct PowerBalance {
  std::optional<double> workpiece;       ///< empty without a workpiece
  std::map<std::string, double> bodies;  ///< every other body by name
  double coil = 0.0;                     ///< the winding
  double leads = 0.0;
  std::optional<double> joints, capacitors, switches, chokes;
  std::optional<double> cable, battery;  ///< battery: in its internal resistance
  double total = 0.0;
  std::map<std::string, PowerDensity>
      density;  ///< of every heated body by name, "workpiece" included

  /// Sum of all parts [W]; differs from `total` only by rounding.
  [[nodiscard]] double sum() const;
};

/// Estimated relative errors and what the solution cost.
struct Accuracy {
  std::optional<double> workpiece_power, coil_power, inductance;  ///< relative
  /// Relative, for every other body with at least a thousandth of the total loss.
  std::map<std::string, double> bodies_power;
  std::int64_t unknowns = 0;
  int nonlinear_iterations = 0;
  std::string method;  ///< how the errors were estimated, in words
};

/// Saturation of the workpiece.
struct Saturation {
  double relative_permeability = 1.0;  ///< at its surface where the field is largest
  double least_skin_depth = 0.0,
         largest_skin_depth = 0.0;         ///< along its surface, where it is heated [m]
  double share_in_first_skin_depth = 0.0;  ///< share of its power within skin_depth of the surface
};

/// One operating point with all bodies at uniform temperature.
struct StateResult {
  std::string name;  ///< empty, cold, peak_demand, past_curie, at_target, or fixed_frequency
  Frequency frequency;
  std::optional<Temperature> workpiece_temperature;
  CoilResult coil;
  DriveResult drive;
  std::optional<TankResult> tank;
  std::optional<SupplyResult> supply;
  PowerBalance power;
  std::optional<double> efficiency;         ///< of workpiece and useful bodies / total power
  std::optional<double> skin_depth;         ///< in the workpiece [m]
  std::optional<double> surface_field_rms;  ///< largest tangential H on the workpiece [A/m]
  std::optional<Saturation> saturation;     ///< of a magnetic workpiece below its Curie point
  double energy = 0.0;                      ///< of the magnetic field, time average [J]
  bool met = true;  ///< false: the heating run ends before the work gets this hot
  Accuracy accuracy;
};

/// Supply current that the tank demands while the workpiece warms, without a limit. Samples of
/// rising temperature on a coarse mesh, for the shape of the curve; the states hold the accurate
/// figures.
struct DemandResult {
  std::vector<Temperature> temperatures;
  std::vector<double> currents;     ///< [A]
  std::vector<double> frequencies;  ///< [Hz]
};

enum class Verdict { ok, watch, stop };

/// One thing that can give out.
struct LimitResult {
  std::string part, quantity;  ///< quantity with its unit in the name: "current_rms_A"
  double value = 0.0;
  std::optional<double> limit, fraction;  ///< empty if no limit was given
  Verdict verdict = Verdict::ok;
  std::string at_state;
  std::string advice;  ///< one sentence: what to do
};

/// Keep-out distance by one published level.
struct ExposureLevel {
  std::string name;       ///< with its year
  double level = 0.0;     ///< rms [T]
  double keep_out = 0.0;  ///< [m]
};

/// Stray field by distance from the coil's outer surface.
struct ExposureResult {
  std::vector<double> distances;   ///< [m]
  std::vector<double> field_rms;   ///< largest at that distance [T]
  std::optional<double> keep_out;  ///< [m]
  std::string reference;           ///< level from which the keep-out distance follows
  std::string at_state = {};
  std::vector<double> axis_rms = {}, beside_rms = {};  ///< at those distances [T]
  std::vector<ExposureLevel> levels = {};              ///< strictest first
};

/// Wall-clock seconds: the only part of a result that differs between equal runs.
struct Timing {
  double mesh = 0.0, solve = 0.0, total = 0.0;
};

/// The program that made the result.
struct BuildInfo {
  std::string version, compiler;
  std::vector<std::string> libraries;  ///< "name version"
};

/// A value from elsewhere, and where it was published.
struct SourceNote {
  std::string of;  ///< "copper-tube: resistivity"
  std::string source;
  std::string provenance;  ///< how it was obtained, as the material file says; may be empty
};

/// A caution in full, and in one short line for the terminal. Made by cautions(), see cautions.hpp.
struct Caution {
  std::string id;  ///< "header", "voltage", "implants", ...
  std::string text;
  std::string brief;
  bool triggered = false;  ///< required by this design, not printed with every result
};

/// Everything in result.json.
struct Result {
  std::string title, case_sha256;
  BuildInfo build;
  std::optional<Heater> heater;  ///< if read from a file: as much of it as the file holds
  std::vector<StateResult> states;
  std::optional<DemandResult> demand;
  std::optional<HeatResult> heat;
  std::optional<JobVerdict> verdict;  ///< if a heating run had a target
  std::vector<Remedy> remedies;       ///< if the verdict is not a plain yes; best first
  std::vector<LimitResult> limits;
  std::optional<CoolingResult> cooling;
  std::optional<ExposureResult> exposure;
  std::optional<PartsResult> parts;
  std::optional<CommissioningResult> commissioning;
  Timing timing;
  std::vector<std::string> warnings;
  std::vector<SourceNote> sources;
};

/// The DC supply of the result's heater; null if it has none.
inline const DcSupply* supply_of(const Result& result) {
  return result.heater ? supply_of(result.heater->drive) : nullptr;
}

}  // namespace cw
