#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "cases/case_parts.hpp"
#include "materials/material.hpp"
#include "materials/quantity.hpp"

namespace cw::cases {

// A case as plain data: what one case file says, converted to SI (m, kg, s, A, K, V, ohm, H, F).
// In a namespace of its own: the solvers have their own Leads, Ring, Tank with other members.
// A key that may be left out is std::optional, unless a default is stated beside it.

/// A place in a text file; line and column count from 1, 0 = unknown.
struct TextPlace {
  unsigned line = 0, column = 0;
};

/// Files by the path a case names them by, with the SHA-256 of the bytes that were read.
using NamedFiles = std::map<std::string, std::string>;

/// Where each key of a case file stands, by dotted key: "coil.pitch", "body.0.material",
/// "workpiece.profile.3".
struct Where {
  std::map<std::string, TextPlace, std::less<>> at;
  /// Place of `key`; of the nearest enclosing table or array where `key` itself is not written;
  /// else line 1.
  [[nodiscard]] TextPlace of(std::string_view key) const;
};

/// A corner of a section in the half-plane [m].
struct Corner {
  double r = 0.0, z = 0.0;
};

/// The section of a body of revolution, given either by diameter (+ bore) and length, or by its
/// corners.
struct Outline {
  std::optional<double> diameter, bore, length;  ///< [m]; unset when a profile was written
  double centre = 0.0;  ///< z of the middle [m]; 0 when a profile was written
  /// Closed polygon (r, z) [m], always filled (four corners for a cylinder), last corner not
  /// repeated, in the order written: either way round.
  std::vector<Corner> profile;
};

/// Temperature at a depth below the outside of a body.
struct TemperaturePoint {
  double depth = 0.0;  ///< [m]
  Temperature temperature;
};
/// From the outside inwards, depths rising; linear between the points, held beyond them.
using TemperatureProfile = std::vector<TemperaturePoint>;

/// The part to be heated.
struct Workpiece {
  Material material;
  std::string material_as_written;  ///< library name or path, as in the file
  Outline outline;
  Temperature temperature = Temperature::celsius(20.0);  ///< at the start, and of the state `cold`;
                                                         ///< with a profile that of the outside
  TemperatureProfile temperature_profile;  ///< of the same; empty: `temperature` all through
  /// How far its lower end reaches below the upper end of the coil [m]; the outline stands there.
  std::optional<double> insertion;
};

/// Anything else in the field: cup, sleeve, fibre, flux guide, second part.
struct Body {
  std::string name;  ///< unique in the case; never "workpiece" or "turn..."
  Material material;
  std::string material_as_written;
  Outline outline;
  std::optional<Temperature> temperature;  ///< fixed at this; left out: as warm as the state says
  TemperatureProfile temperature_profile;  ///< fixed at this instead; empty: none
  bool useful = false;            ///< its heat counts in the efficiency (a charge in its cup)
  std::optional<double> contact;  ///< conductance to what it touches [W/(m2 K)]; left out: bonded
};

struct RoundTube {
  double diameter = 0.0;  ///< outside [m]
  double wall = 0.0;      ///< [m]
};

struct RoundWire {
  double diameter = 0.0;  ///< [m]
};

struct RectangularBar {
  double radial = 0.0, axial = 0.0;  ///< outside size [m]
  std::optional<double> wall;        ///< of a rectangular tube [m]; left out: solid
};

/// Twisted insulated strands sharing the current evenly.
struct StrandBundle {
  int strands = 0;
  double strand = 0.0;  ///< bare diameter of one [m]
  double bundle = 0.0;  ///< diameter over all [m]
  double lay = 1.02;    ///< strand length over bundle length (common practice, no source)
};

/// The metal of a turn.
struct Conductor {
  std::variant<RoundTube, RoundWire, RectangularBar, StrandBundle> section;
  Material material;
  std::string material_as_written;
  [[nodiscard]] double radial_size() const;  ///< outside [m]
  [[nodiscard]] double axial_size() const;   ///< outside [m]
};

/// The go-and-return pair from the coil to the tank.
struct Leads {
  double length = 0.0;             ///< one way [m]
  double spacing = 0.0;            ///< between centres [m]
  std::optional<Warming> warming;  ///< of both, where they are not the coil's tube
};

/// Water inside the conductor.
struct Coolant {
  double flow = 0.0;  ///< [m3/s]
  Temperature inlet = Temperature::celsius(20.0);
  double rise = 15.0;              ///< wanted, for the flow that brings it about [K]
  std::optional<double> pressure;  ///< what pump or main gives at this flow [Pa]
};

enum class CoilShape { helix, flat, cone, rings };

/// Centre of one explicit turn [m].
struct Ring {
  double r = 0.0, z = 0.0;
};

/// The work coil; its middle is z = 0 (explicit rings stand where they are written). See
/// ring_places().
struct Coil {
  CoilShape shape = CoilShape::helix;
  double turns = 0.0;  ///< for `rings`: their number
  double bore = 0.0;   ///< clear inside diameter [m]; flat: of the innermost turn; cone: at the
                       ///< lower (z < 0) end; rings: smallest
  std::optional<double> bore_end;  ///< cone only: clear inside diameter at the upper end [m]
  double pitch = 0.0;  ///< from turn to turn, axial; flat: radial [m]. 0 for `rings` and where a
                       ///< single turn gives none
  std::optional<double>
      gap;  ///< clear space between turns [m], where it was written instead of the pitch
  std::vector<Ring> rings;  ///< `rings` only, in winding order
  Conductor conductor;
  std::optional<Leads> leads;      ///< left out: none
  std::optional<Coolant> coolant;  ///< left out: in still air
  std::optional<Temperature>
      temperature;  ///< left out: from cooling where that is computed, else 20 degC
  /// Hottest a coil without water may get (insulation, sleeve); left out: where soft solder softens
  std::optional<Temperature> temperature_limit;
};

/// What the data sheet of one can says; rms.
struct CanLimits {
  std::optional<double> current;         ///< [A]
  std::optional<double> voltage;         ///< [V]
  std::optional<double> loss;            ///< heat it may make [W]
  std::optional<double> reactive_power;  ///< [var]
};

/// Everything between capacitors and leads.
struct Joints {
  double resistance = 0.0;  ///< [ohm]
  double inductance = 0.0;  ///< [H]
};

/// The capacitor bank.
struct Tank {
  double capacitance = 0.0;  ///< of the whole bank [F]
  std::optional<double>
      dissipation_factor;  ///< tan delta; left out: lossless, and the report says so
  double esr = 0.0;        ///< series resistance of the whole bank, beside dissipation_factor [ohm]
  double esl = 0.0;        ///< own series inductance of the whole bank [H]
  std::optional<int> cans;  ///< equal cans in parallel
  std::optional<CanLimits> can_limits;
  std::optional<Warming> can_warming;  ///< of one can
  Joints joints;
  std::vector<PathConductor> conductors;  ///< between bank and leads
};

enum class LimitKind {
  fold,   ///< the voltage folds back until the current meets the limit
  trip,   ///< a breaker or fuse opens
  hiccup  ///< the supply stops and tries again
};

/// One transistor of the pair.
struct Switch {
  double resistance = 0.0;              ///< on-state [ohm]
  double drop = 0.0;                    ///< constant on-state drop beside it [V]
  std::optional<double> voltage_limit;  ///< peak, from its data sheet [V]
  std::optional<double> gate_time;      ///< to switch over, from gate drive and gate charge [s]
  std::optional<HeatSink> heat_sink;
  std::optional<Warming> warming;  ///< of one transistor with its heat sink
};

/// From the supply to the drive: both wires and the fuse, as a resistance or by the size.
struct Cable {
  std::optional<double> length;      ///< one way [m]; with section
  std::optional<double> section;     ///< of one wire [m2]
  std::optional<double> resistance;  ///< of both wires and the fuse [ohm]; instead of both
};

/// Feed chokes: two, or one with a centre-tapped coil.
struct Choke {
  int count = 2;                     ///< 1 or 2
  double inductance = 0.0;           ///< each [H]
  double resistance = 0.0;           ///< each [ohm]
  std::optional<double> saturation;  ///< peak current, from its data sheet [A]
  std::optional<ChokeCore> core;     ///< to be wound on
  std::optional<Warming> warming;
};

/// Current-fed self-oscillating pair; needs a tank.
struct PushPullDrive {
  double supply = 0.0;                 ///< DC [V]
  std::optional<double> supply_limit;  ///< DC [A]; left out: the supply gives what is asked
  LimitKind limit_kind = LimitKind::fold;
  std::optional<double> battery_resistance;  ///< inside the battery [ohm]; left out: a set voltage
  std::optional<Cable> cable;                ///< left out: none
  std::optional<double> fuse;                ///< rating of fuse or breaker [A]
  std::optional<Mains> mains;
  Switch transistor;
  Choke choke;
};

/// A fixed current through the coil at a fixed frequency.
struct CurrentDrive {
  Frequency frequency;
  double rms = 0.0;  ///< [A]
};

/// A fixed voltage across the coil and its leads at a fixed frequency.
struct VoltageDrive {
  Frequency frequency;
  double rms = 0.0;  ///< [V]
};

using Drive = std::variant<PushPullDrive, CurrentDrive, VoltageDrive>;

enum class TargetAt { surface, centre, mean, coldest };

/// A stretch of the axis [m].
struct Stretch {
  double from = 0.0, to = 0.0;  ///< from < to
};

/// How the axis of coil and workpiece stands, for the flow of air.
enum class AxisStands { vertical, horizontal };

/// The heating run.
struct Heat {
  std::optional<Temperature> target;
  TargetAt target_at = TargetAt::coldest;  ///< within `heated`
  std::optional<Stretch> heated;           ///< left out: the part of the workpiece inside the coil
  std::optional<double> until;             ///< longest run [s]
  Temperature surroundings = Temperature::celsius(20.0);
  std::optional<double> emissivity;  ///< of the workpiece; left out: the material's
  AxisStands axis = AxisStands::vertical;
  std::optional<double> thermometer;  ///< emissivity an infrared thermometer is set to
  std::optional<Temperature> harden;  ///< all of it is austenite (Ac3); left out: the steel's
};

/// Bounds of a key between which a sweep draws or searches, in the unit they were written in.
struct SweepRange {
  double from = 0.0, to = 0.0;  ///< from != to
  std::string unit;             ///< empty for a bare number
};

/// One key a sweep changes. `values` are as they would stand in the file, text without its quotes:
/// "7.5 mm", "8"; empty where only the range was written.
struct SweepAxis {
  std::string key;
  std::vector<std::string> values;
  std::optional<SweepRange> range;  ///< set where `from` and `to` were written
};

enum class SamplingKind { latin_hypercube, sobol };

/// Draws designs from the axes instead of trying every combination.
struct Sampling {
  SamplingKind kind = SamplingKind::latin_hypercube;
  int count = 0;
  int seed = 1;  ///< Latin hypercube only: another seed, other designs
};

/// What a design must keep to be ranked, beside the ratings of its parts.
struct SweepRequirement {
  std::string key;  ///< of a result
  std::optional<double> least, most;
};

/// How `coilwright sweep --optimise` searches.
struct Optimiser {
  int evaluations = 60;  ///< designs solved, all starts together
  int starts = 1;
};

struct Sweep {
  std::vector<SweepAxis> vary;
  NamedFiles files;  ///< named by the case or by a value it tries
  std::string rank;  ///< a result key, `-` in front for largest first; empty: in the order solved
  std::string against;  ///< second result key, for the Pareto chart, signed as `rank`; may be empty
  std::optional<Sampling> sampling;  ///< left out: every combination
  std::vector<SweepRequirement> require;
  std::optional<Optimiser> optimiser;
};

/// One case file.
struct Case {
  std::string title;
  std::filesystem::path file;          ///< as the caller gave it
  std::string sha256;                  ///< of the file's bytes, 64 lower-case hexadecimal digits
  NamedFiles files;                    ///< material files it was read from, beside its own
  std::optional<Workpiece> workpiece;  ///< left out: the empty coil
  std::vector<Body> bodies;            ///< in file order; Where key "body.0", "body.1" ...
  Coil coil;
  std::optional<Tank> tank;  ///< required by a push-pull drive
  Drive drive;
  std::optional<Heat> heat;    ///< left out: no heating run
  std::optional<Sweep> sweep;  ///< only used by a sweep
  std::vector<Nearby> nearby;  ///< in file order
  Commissioning commissioning;
  Tolerance tolerance;
  Where where;  ///< for messages found later
};

/// The air round heater and work: that of the heating run, else 20 degC.
inline Temperature surroundings_of(const Case& subject) {
  return subject.heat ? subject.heat->surroundings : Temperature::celsius(20.0);
}

}  // namespace cw::cases

namespace cw {
using cases::Case;
}  // namespace cw
