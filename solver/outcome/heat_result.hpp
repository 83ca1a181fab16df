#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "materials/quantity.hpp"
#include "solver/heater/heater.hpp"

namespace cw {

/// Temperatures of one body at a moment.
struct BodyHeat {
  double mean = 0.0, hottest = 0.0, coldest = 0.0;  ///< [K]
  std::optional<double> molten;                     ///< share of its volume; empty: no data
};

/// One line of the history; rms. Temperatures of the workpiece are within the heated stretch [K],
/// surface and centre half-way up it.
struct HeatLine {
  double time = 0.0;  ///< [s]
  double surface = 0.0, centre = 0.0, coldest = 0.0, mean = 0.0, hottest = 0.0;
  double frequency = 0.0;     ///< [Hz]
  double tank_current = 0.0;  ///< through the coil [A]
  std::optional<double> supply_current, demand, loaded_q;
  double work_W = 0.0, coil_W = 0.0, lost_W = 0.0, total_W = 0.0;
  std::optional<double> thermometer;     ///< reading it would show [K]
  std::optional<double> hardened_depth;  ///< depth above Ac3, from the surface, half-way up [m]
  double mass_above = 0.0;               ///< of the workpiece, hotter than HeatResult::view [kg]
  double spread = 0.0;                   ///< hottest less coldest along the stretch's surface [K]
  double at_target = 0.0;                ///< temperature that is compared with the target [K]
  std::vector<BodyHeat> bodies = {};     ///< of HeatResult::bodies
};

/// Something that is heated.
struct HeatedBody {
  std::string name;
  BodyHeat at_end;
};

/// Where two bodies touch without being bonded.
struct JointHeat {
  std::string one, other;
  double across = 0.0;  ///< largest difference in temperature over the run [K]
  double at_end = 0.0;  ///< mean over the joint [K]; positive: `one` is the hotter
};

struct HeatEventResult {
  std::string name;
  double time = 0.0;  ///< [s]
};

/// What matters for hardening.
struct HardeningResult {
  Temperature austenite;           ///< Ac3 as used
  std::optional<double> through;   ///< time after which the whole stretch has passed it [s]
  double depth = 0.0;              ///< at the end [m]
  double seconds_above_900 = 0.0;  ///< at the hottest place: scale, coarse grain
  /// When the surface would get too hot for the steel if the power stayed on after the target [s].
  /// Empty: not computed, or not within twice the time to the target.
  std::optional<double> too_hot = {};
};

/// What an infrared thermometer would have shown at the end, and the true values.
struct ThermometerResult {
  double setting = 0.0;     ///< emissivity it is set to
  double emissivity = 0.0;  ///< of the surface
  Temperature shown, surface;
};

/// The heating run.
struct HeatResult {
  bool reached = false;
  std::string ended;  ///< target, time, stall, supply or interrupted
  std::optional<Temperature> target;
  std::string target_of = "workpiece";   ///< body; for a joint its first body
  std::optional<std::string> target_to;  ///< for a joint its second body
  std::string target_at;                 ///< surface, centre, mean, coldest, depth or joint
  std::optional<double> target_depth;    ///< of "depth" [m]
  std::optional<Temperature> reading;  ///< temperature that is compared with the target, at the end
  std::optional<double> time_to_target;  ///< [s]
  std::optional<Temperature> stall;      ///< temperature at which heating stops
  /// How much higher it is with an emissivity of the workpiece 0.1 higher, and with 1 mm more gap
  /// [K].
  std::optional<double> stall_by_emissivity, stall_by_gap;
  double energy = 0.0;                         ///< taken from the supply [J]
  double induced = 0.0, stored = 0.0;          ///< in all heated bodies together [J]
  std::map<std::string, double> lost;          ///< by them, per route [J]
  std::map<std::string, double> spent;         ///< of `energy`, by part [J]
  double ledger_error = 0.0;                   ///< (induced - stored - lost) / induced
  double interpolation_error = 0.0;            ///< of power between updates of the field / induced
  double mesh_error = 0.0;                     ///< of the workpiece's power over the run, relative
  int field_updates = 0;                       ///< number of field solutions at separate moments
  std::string history = "tables/history.csv";  ///< relative to the result directory
  std::vector<HeatEventResult> events;
  std::optional<HardeningResult> hardening;
  std::optional<ThermometerResult> thermometer;
  Temperature view;                ///< temperature for mass_above: the target, else 600 degC
  std::vector<HeatedBody> bodies;  ///< the workpiece first
  std::vector<JointHeat> joints;
  std::vector<HeatLine> lines;  ///< written to `history`, not to result.json

  /// Relative error of times and energies from mesh and time steps: as large as that of the power.
  [[nodiscard]] double time_error() const { return mesh_error + interpolation_error; }
};

/// Copies the target of a heater and its place into the result.
void take_target(const Heater& heater, HeatResult& heat);

/// The largest current that the load demands [A]; 0 if no demand was computed.
double greatest_demand(const HeatResult& heat);

/// The place of the target in words: "at the coldest place of the charge", "at a depth of 2 mm".
std::string target_place(const HeatResult& heat);

}  // namespace cw
