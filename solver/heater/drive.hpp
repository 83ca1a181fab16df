#pragma once

#include <limits>
#include <optional>
#include <string_view>
#include <variant>

#include "solver/heater/warming.hpp"

namespace cw {

enum class LimitKind {
  fold,   ///< the voltage folds back until the current meets the limit
  trip,   ///< a breaker or fuse opens
  hiccup  ///< the supply stops and tries again
};

/// A transistor on its heat sink.
struct HeatSink {
  double junction_to_case = 0.0;              ///< [K/W]
  double case_to_sink = 0.0;                  ///< [K/W]
  std::optional<double> sink_to_air;          ///< [K/W]; left out: none fitted
  std::optional<double> junction_to_air;      ///< of the bare transistor [K/W]
  std::optional<double> heat_capacity;        ///< of the bare transistor [J/K]
  std::optional<Temperature> junction_limit;  ///< from its data sheet
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

/// Ring core of a feed choke, to be wound.
struct ChokeCore {
  double outer = 0.0, inner = 0.0, height = 0.0;  ///< [m]
  std::optional<double> permeability;             ///< initial; or
  std::optional<double> inductance_factor;        ///< A_L [H] per turn squared
  std::optional<double> saturation;               ///< flux density [T]
  std::optional<double> bias_80, bias_50;  ///< field that leaves 80 and 50 % of permeability [A/m]
  double wire = 0.0;                       ///< bare diameter [m]
};

/// Feed chokes: two, or one with a centre-tapped coil.
struct Choke {
  int count = 2;                                                ///< 1 or 2
  double inductance = std::numeric_limits<double>::infinity();  ///< each [H]; infinite: ideal
  double resistance = 0.0;                                      ///< each [ohm]
  std::optional<double> saturation = {};  ///< peak current, from its data sheet [A]
  std::optional<ChokeCore> core = {};     ///< to be wound on
  std::optional<Warming> warming = {};
};

/// The wall socket.
struct Mains {
  double efficiency = 0.9;              ///< of the supply, DC over mains power
  std::optional<double> price_per_kWh;  ///< in whatever money
};

/// Current-fed self-oscillating pair; needs a tank.
struct PushPullDrive {
  static constexpr std::string_view kind = "push-pull";
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
  static constexpr std::string_view kind = "current";
  Frequency frequency;
  double rms = 0.0;  ///< [A]
};

/// A fixed voltage across the coil and its leads at a fixed frequency.
struct VoltageDrive {
  static constexpr std::string_view kind = "voltage";
  Frequency frequency;
  double rms = 0.0;  ///< [V]
};

/// A bridge at a fixed frequency on coil, joints and bank in series; needs a tank. The bank's
/// voltage may be many times the bridge's. What the bridge loses and stands is not known here.
struct SeriesTankDrive {
  static constexpr std::string_view kind = "series";
  Frequency frequency;
  double rms = 0.0;  ///< of the bridge's fundamental [V]
};

using Drive = std::variant<PushPullDrive, CurrentDrive, VoltageDrive, SeriesTankDrive>;

/// "push-pull", "current", "voltage", "series".
inline std::string_view kind_of(const Drive& drive) {
  return std::visit([](const auto& d) { return d.kind; }, drive);
}

}  // namespace cw
