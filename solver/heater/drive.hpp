#pragma once

#include <array>
#include <concepts>
#include <limits>
#include <numbers>
#include <optional>
#include <string_view>
#include <type_traits>
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

/// One transistor of a drive.
struct Switch {
  double resistance = 0.0;  ///< on-state [ohm]
  double drop = 0.0;        ///< constant on-state voltage, in addition to the resistance [V]
  std::optional<double> voltage_limit;  ///< peak, from its data sheet [V]
  std::optional<double> gate_time;      ///< to switch over, from gate drive and gate charge [s]
  std::optional<HeatSink> heat_sink;
  std::optional<Warming> warming;  ///< of one transistor together with its heat sink
};

/// The cable from the supply to the drive: both wires and the fuse, given as a resistance or by
/// size.
struct Cable {
  std::optional<double> length;      ///< one way [m]; with section
  std::optional<double> section;     ///< of one wire [m2]
  std::optional<double> resistance;  ///< of both wires and the fuse [ohm]; instead of length and
                                     ///< section
};

/// Ring core of a feed choke, to be wound.
struct ChokeCore {
  double outer = 0.0, inner = 0.0, height = 0.0;  ///< [m]
  std::optional<double> permeability;             ///< initial; or `inductance_factor`
  std::optional<double> inductance_factor;        ///< A_L [H] per turn squared
  std::optional<double> saturation;               ///< flux density [T]
  std::optional<double> bias_80, bias_50;  ///< field at which 80 and 50 % of the permeability
                                           ///< remain [A/m]
  double wire = 0.0;                       ///< bare diameter [m]
};

/// Feed chokes: two, or one with a centre-tapped coil.
struct Choke {
  int count = 2;                                                ///< 1 or 2
  double inductance = std::numeric_limits<double>::infinity();  ///< each [H]; infinite: ideal
  double resistance = 0.0;                                      ///< each [ohm]
  std::optional<double> saturation = {};  ///< peak current, from its data sheet [A]
  std::optional<ChokeCore> core = {};     ///< core to wind it on
  std::optional<Warming> warming = {};
};

/// The wall socket.
struct Mains {
  double efficiency = 0.9;              ///< of the supply, DC over mains power
  std::optional<double> price_per_kWh;  ///< in any currency
};

/// DC source and cable of a drive.
struct DcSupply {
  double supply = 0.0;                 ///< DC [V]
  std::optional<double> supply_limit;  ///< DC [A]; left out: unlimited
  LimitKind limit_kind = LimitKind::fold;
  std::optional<double> battery_resistance;  ///< internal resistance [ohm]; left out: constant
                                             ///< voltage
  std::optional<Cable> cable;                ///< left out: none
  std::optional<double> fuse;                ///< rating of fuse or breaker [A]
  std::optional<Mains> mains;
};

/// How a topology uses the capacitors.
enum class TankUse {
  none,
  rings,     ///< the tank finds the frequency
  in_series  ///< the bank carries the coil's current at the drive's frequency
};

/// Frequency that a drive sets, and the current or voltage that it keeps constant.
struct SetFrequency {
  Frequency frequency;
  bool holds_current = false;
  double rms = 0.0;  ///< [A], or [V]
};

/// Frequencies [Hz] for which drives are built whose tank determines the frequency.
struct FrequencyRule {
  double low, high;              ///< allowed
  double usual_low, usual_high;  ///< no warning inside this range
  std::string_view of;           ///< devices that usually run there, as a plural
};

/// The quantity that is raised or lowered to get more or less power from a drive.
struct DriveLevel {
  std::string_view key;     ///< in [drive] of a case file
  std::string_view unit;    ///< "V" or "A"
  std::string_view before;  ///< words before the old or new value in a sentence
  std::string_view after;
};

/// Parts of a drive that have ratings, and the words for them. Null: the drive has no such part in
/// its description.
struct DriveParts {
  const DcSupply* supply = nullptr;
  const Switch* transistor = nullptr;  ///< one of `switches`
  int switches = 0;
  std::string_view all_switches;  ///< words for all of them as one part
  std::string_view latched;       ///< words for all of them switched on at once
  const Choke* choke = nullptr;   ///< one of choke->count
};

/// Interface of every topology of a drive. One whose tank rings also meets RingingTopology of
/// solver/circuit.
template <class D>
concept DriveTopology = requires(D& changed, const D& d) {
  { D::kind } -> std::convertible_to<std::string_view>;
  { D::tank_use } -> std::convertible_to<TankUse>;
  { D::level_words } -> std::convertible_to<DriveLevel>;
  { changed.level() } -> std::same_as<double&>;
  // Nothing: the tank determines it.
  { d.set_frequency() } -> std::same_as<std::optional<SetFrequency>>;
  { D::frequency_rule } -> std::convertible_to<std::optional<FrequencyRule>>;
  { d.parts() } -> std::same_as<DriveParts>;
};

/// Current-fed self-oscillating pair.
struct PushPullDrive : DcSupply {
  Switch transistor;
  Choke choke;

  static constexpr std::string_view kind = "push-pull";
  static constexpr TankUse tank_use = TankUse::rings;
  static constexpr DriveLevel level_words{"supply", "V", "a supply of ", ""};
  /// Range of self-oscillating pairs with a generous margin on both sides (common practice, no
  /// source).
  static constexpr std::optional<FrequencyRule> frequency_rule =
      FrequencyRule{5e3, 2e6, 20e3, 400e3, "push-pull pairs"};
  /// Peak of the tank voltage over the supply voltage, without losses: see
  /// solver/circuit/push_pull.
  static constexpr double peak_over_supply = std::numbers::pi;
  double& level() { return supply; }
  [[nodiscard]] std::optional<SetFrequency> set_frequency() const { return std::nullopt; }
  [[nodiscard]] DriveParts parts() const {
    return {this, &transistor, 2, "switches, both", "both switches stuck on", &choke};
  }
};

/// What topologies of a fixed frequency have in common.
struct AtSetFrequency {
  Frequency frequency;
  double rms = 0.0;  ///< [A], or [V]

  static constexpr std::optional<FrequencyRule> frequency_rule = std::nullopt;
  double& level() { return rms; }
  [[nodiscard]] DriveParts parts() const { return {}; }
};

/// A fixed current through the coil.
struct CurrentDrive : AtSetFrequency {
  static constexpr std::string_view kind = "current";
  static constexpr TankUse tank_use = TankUse::none;
  static constexpr DriveLevel level_words{"rms", "A", "", " rms"};
  [[nodiscard]] std::optional<SetFrequency> set_frequency() const {
    return {{frequency, true, rms}};
  }
};

/// A fixed voltage across the coil and its leads.
struct VoltageDrive : AtSetFrequency {
  static constexpr std::string_view kind = "voltage";
  static constexpr TankUse tank_use = TankUse::none;
  static constexpr DriveLevel level_words{"rms", "V", "", " rms"};
  [[nodiscard]] std::optional<SetFrequency> set_frequency() const {
    return {{frequency, false, rms}};
  }
};

/// A bridge, represented by its fundamental, with coil, joints and bank in series. The bank's
/// voltage may be many times the bridge's. Losses and ratings of the bridge are not modelled.
struct SeriesTankDrive : AtSetFrequency {
  static constexpr std::string_view kind = "series";
  static constexpr TankUse tank_use = TankUse::in_series;
  static constexpr DriveLevel level_words{"rms", "V", "", " rms"};
  [[nodiscard]] std::optional<SetFrequency> set_frequency() const {
    return {{frequency, false, rms}};
  }
};

using Drive = std::variant<PushPullDrive, CurrentDrive, VoltageDrive, SeriesTankDrive>;

/// Calls `question` with the topology, whichever it is.
template <class AnyDrive, class Question>
decltype(auto) ask(AnyDrive&& drive, const Question& question) {
  return std::visit(
      [&](auto& d) -> decltype(auto) {
        static_assert(DriveTopology<std::remove_cvref_t<decltype(d)>>);
        return question(d);
      },
      drive);
}

/// "push-pull", "current", "voltage", "series".
inline std::string_view kind_of(const Drive& drive) {
  return ask(drive, [](const auto& d) { return d.kind; });
}
inline TankUse tank_use(const Drive& drive) {
  return ask(drive, [](const auto& d) { return d.tank_use; });
}
/// Whether the tank determines the frequency.
inline bool tank_rings(const Drive& drive) {
  return tank_use(drive) == TankUse::rings;
}
inline std::optional<SetFrequency> set_frequency(const Drive& drive) {
  return ask(drive, [](const auto& d) { return d.set_frequency(); });
}
inline DriveLevel level_words(const Drive& drive) {
  return ask(drive, [](const auto& d) { return d.level_words; });
}
/// Supply voltage [V], or the voltage [V] or current [A] of the coil.
inline double& level_of(Drive& drive) {
  return ask(drive, [](auto& d) -> double& { return d.level(); });
}
inline double level_of(const Drive& drive) {
  Drive copy = drive;
  return level_of(copy);
}
template <class... D>
DriveParts drive_parts(const std::variant<D...>& drive) {
  return ask(drive, [](const auto& d) { return d.parts(); });
}
/// Its DC supply; null if the drive has none.
template <class... D>
const DcSupply* supply_of(const std::variant<D...>& drive) {
  return drive_parts(drive).supply;
}
template <class... D>
DcSupply* supply_of(std::variant<D...>& drive) {
  return ask(drive, [](auto& d) -> DcSupply* {
    if constexpr (std::derived_from<std::remove_cvref_t<decltype(d)>, DcSupply>)
      return &d;
    else
      return nullptr;
  });
}

/// The kinds in their order in Drive.
inline constexpr std::array drive_kinds = []<class... D>(std::type_identity<std::variant<D...>>) {
  return std::array{std::string_view(D::kind)...};
}(std::type_identity<Drive>{});

/// Whether a drive of this kind uses a tank; false for a kind that is not known.
constexpr bool uses_tank(std::string_view kind) {
  return [&]<class... D>(std::type_identity<std::variant<D...>>) {
    return ((D::kind == kind && D::tank_use != TankUse::none) || ...);
  }(std::type_identity<Drive>{});
}

}  // namespace cw
