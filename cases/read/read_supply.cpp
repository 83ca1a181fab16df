#include <algorithm>
#include <array>
#include <numbers>

#include <fmt/format.h>

#include "cases/read/case_sections.hpp"
#include "cases/read/part_keys.hpp"
#include "cases/read/sized_parts.hpp"
#include "materials/wire_gauge.hpp"

namespace cw::cases {

namespace {

constexpr std::array can_limit_keys = {
    Key{"current", optional, keys::quantity<&CanLimits::current, D::current>, "\"9 A\""},
    Key{"voltage", optional, keys::quantity<&CanLimits::voltage, D::voltage>, "\"150 V\""},
    Key{"loss", optional, keys::quantity<&CanLimits::loss, D::power>, "\"1.5 W\""},
    Key{"reactive_power", optional, keys::quantity<&CanLimits::reactive_power, D::power>,
        "\"500 var\""},
};

constexpr std::array joint_keys = {
    Key{"resistance", optional, keys::quantity<&Joints::resistance, D::resistance>, "\"0.4 mohm\""},
    Key{"inductance", optional, keys::quantity<&Joints::inductance, D::inductance>, "\"20 nH\""},
};

constexpr std::array tank_keys = {
    Key{"capacitance", required, keys::quantity<&Tank::capacitance, D::capacitance>, "\"2 uF\""},
    Key{"dissipation_factor", optional, keys::number<&Tank::dissipation_factor>, "8e-4"},
    Key{"esr", optional, keys::quantity<&Tank::esr, D::resistance>, "\"0.5 mohm\""},
    Key{"esl", optional, keys::quantity<&Tank::esl, D::inductance>, "\"5 nH\""},
    Key{"cans", optional, keys::whole<&Tank::cans>, "20"},
    Key{"cans_in_series", optional, keys::whole<&Tank::cans_in_series>, "2"},
    Key{"can_limits", optional, keys::table<&Tank::can_limits, CanLimits, can_limit_keys>,
        "{ current = \"9 A\", voltage = \"150 V\" }"},
    Key{"can_warming", optional, read_can_warming, warming_sample},
    Key{"conductor", optional, keys::tables<&Tank::conductors, PathConductor, path_keys>,
        path_sample},
    Key{"joints", optional, keys::table<&Tank::joints, Joints, joint_keys>,
        "{ resistance = \"0.4 mohm\", inductance = \"20 nH\" }"},
};

void read_core(Reading& reading, const Entry& entry, Choke& to) {
  keys::table<&Choke::core, ChokeCore, core_keys>(reading, entry, to);
  finish_core(reading, entry);
}

constexpr std::array switch_keys = {
    Key{"resistance", optional, keys::quantity<&Switch::resistance, D::resistance>, "\"10 mohm\""},
    Key{"drop", optional, keys::quantity<&Switch::drop, D::voltage>, "\"1 V\""},
    Key{"gate_time", optional, keys::quantity<&Switch::gate_time, D::time>, "\"100 ns\""},
    Key{"voltage_limit", optional, keys::quantity<&Switch::voltage_limit, D::voltage>, "\"150 V\""},
    Key{"heat_sink", optional, read_heat_sink, heat_sink_sample},
    Key{"warming", optional, keys::table<&Switch::warming, Warming, warming_keys>, warming_sample},
};

constexpr std::array choke_keys = {
    Key{"count", optional, keys::whole<&Choke::count>, "2"},
    Key{"inductance", required, keys::quantity<&Choke::inductance, D::inductance>, "\"150 uH\""},
    Key{"resistance", optional, keys::quantity<&Choke::resistance, D::resistance>, "\"14 mohm\""},
    Key{"saturation", optional, keys::quantity<&Choke::saturation, D::current>, "\"25 A\""},
    Key{"core", optional, read_core, core_sample},
    Key{"warming", optional, keys::table<&Choke::warming, Warming, warming_keys>, warming_sample},
};

/// The section by its area, or by the gauge of a solid wire of that area.
void read_cable_section(Reading& reading, const Entry& entry, Cable& to) {
  if (entry.node.kind != Node::Kind::text || !names_gauge(entry.node.text)) {
    keys::quantity<&Cable::section, D::area>(reading, entry, to);
  } else if (const auto diameter = read_wire(reading, entry)) {
    to.section = std::numbers::pi / 4 * *diameter * *diameter;
  }
}

constexpr std::array cable_keys = {
    Key{"length", optional, keys::quantity<&Cable::length, D::length>, "\"2 m\""},
    Key{"section", optional, read_cable_section, "\"16 mm2\""},
    Key{"resistance", optional, keys::quantity<&Cable::resistance, D::resistance>, "\"4 mohm\""},
};

constexpr std::array<std::string_view, 3> limit_kinds = {"fold", "trip", "hiccup"};
constexpr std::string_view choke_sample = "{ count = 2, inductance = \"150 uH\" }";
constexpr std::string_view cable_sample = "{ length = \"2 m\", section = \"16 mm2\" }";

/// The cable by length and section or by resistance; not both, and not only half of it.
void read_cable(Reading& reading, const Entry& entry, DcSupply& to) {
  Cable cable;
  read_table<Cable>(reading, entry, cable_keys, cable);
  to.cable = cable;
  if (entry.node.kind != Node::Kind::table) return;
  const auto has = [&](std::string_view name) { return entry.node.table.contains(name); };
  if (has("resistance")) {
    constexpr std::array<std::string_view, 2> sizes = {"length", "section"};
    forbid(reading, entry, sizes, "the cable's resistance is written");
  } else if (!has("length") && !has("section")) {
    reading.complain(entry.path, fmt::format("found a cable without a size; write cable = {}, or "
                                             "{{ resistance = \"4 mohm\" }}",
                                             cable_sample));
  } else {
    for (const auto& key : std::span(cable_keys).first(2))
      if (!has(key.name)) demand(reading, entry, key.name, key.sample);
  }
}

template <class T>
void read_kind(Reading& reading, const Entry& entry, T& /*to*/) {
  read_choice(reading, entry, drive_kinds);
}

/// A member that several topologies have in common, read by `Read`.
template <class T, auto Read>
void common(Reading& reading, const Entry& entry, T& to) {
  Read(reading, entry, to);
}

template <auto M, class V, const auto& Keys>
void read_part(Reading& reading, const Entry& entry, keys::Owner<M>& to) {
  read_table<V>(reading, entry, Keys, to.*M);
}

/// For a topology fed by direct current, with its switches and chokes.
template <class T>
constexpr std::array supplied_keys = {
    Key<T>{"kind", optional, read_kind<T>, "\"push-pull\""},
    Key<T>{"supply", required, common<T, keys::quantity<&DcSupply::supply, D::voltage>>,
           "\"36 V\""},
    Key<T>{"supply_limit", optional, common<T, keys::quantity<&DcSupply::supply_limit, D::current>>,
           "\"32 A\""},
    Key<T>{"limit_kind", optional,
           common<T, keys::choice<&DcSupply::limit_kind, LimitKind, limit_kinds>>, "\"fold\""},
    Key<T>{"battery_resistance", optional,
           common<T, keys::quantity<&DcSupply::battery_resistance, D::resistance>>, "\"12 mohm\""},
    Key<T>{"cable", optional, common<T, read_cable>, cable_sample},
    Key<T>{"fuse", optional, common<T, keys::quantity<&DcSupply::fuse, D::current>>, "\"40 A\""},
    Key<T>{"mains", optional, common<T, keys::table<&DcSupply::mains, Mains, mains_keys>>,
           mains_sample},
    Key<T>{"switch", optional, read_part<&T::transistor, Switch, switch_keys>,
           "{ resistance = \"10 mohm\", voltage_limit = \"150 V\" }"},
    Key<T>{"choke", optional, read_part<&T::choke, Choke, choke_keys>, choke_sample},
};

/// For a topology that sets the frequency.
template <class T, D Level>
constexpr std::array fixed_keys = {
    Key<T>{"kind", required, read_kind<T>, "\"push-pull\""},
    Key<T>{"frequency", required,
           common<T, keys::quantity<&AtSetFrequency::frequency, D::frequency>>, "\"60 kHz\""},
    Key<T>{"rms", required, common<T, keys::quantity<&AtSetFrequency::rms, Level>>,
           Level == D::current ? "\"100 A\"" : "\"80 V\""}};

/// Keys of each topology.
template <class T>
constexpr auto drive_keys = fixed_keys<T, D::voltage>;
template <>
constexpr auto drive_keys<CurrentDrive> = fixed_keys<CurrentDrive, D::current>;
template <>
constexpr auto drive_keys<PushPullDrive> = supplied_keys<PushPullDrive>;

template <class T>
void read_as(Reading& reading, const Entry& entry, Drive& to) {
  T drive;
  read_table<T>(reading, entry, drive_keys<T>, drive);
  to = std::move(drive);
}

/// Reads a drive of known kind; push-pull by default.
void read_known(Reading& reading, const Entry& entry, Drive& to) {
  constexpr std::array readers = []<class... T>(std::type_identity<std::variant<T...>>) {
    return std::array{&read_as<T>...};
  }(std::type_identity<Drive>{});
  const auto kind = entry.node.table.find("kind");
  const auto* const name = kind == entry.node.table.end()
                               ? drive_kinds.begin()
                               : std::ranges::find(drive_kinds, kind->second.text);
  readers.at(static_cast<std::size_t>(name - drive_kinds.begin()))(reading, entry, to);
}

/// Whether the kind of a drive is known: it is given, or only one kind has a supply. The other
/// missing keys depend on it.
bool kind_is_known(Reading& reading, const Entry& entry) {
  const auto& table = entry.node.table;
  const auto kind = table.find("kind");
  if (kind == table.end()) {
    const bool pair =
        table.contains("supply") && !table.contains("frequency") && !table.contains("rms");
    if (!pair)
      demand(reading, entry, "kind", "\"push-pull\" (or \"current\", \"voltage\", \"series\")");
    return pair;
  }
  if (std::ranges::find(drive_kinds, kind->second.text) != drive_kinds.end()) return true;
  const std::string path = dotted(entry.path, "kind");
  reading.where.at[path] = kind->second.at;
  read_choice(reading, {path, kind->second, "\"push-pull\""}, drive_kinds);
  return false;
}

void require_whole_strings(Reading& reading, const Entry& entry, Tank& tank) {
  const int cans = tank.cans.value_or(0), series = tank.cans_in_series;
  if (series == 1 || (series > 1 && cans > 0 && cans % series == 0)) return;
  const int whole = std::max(series, 2);
  reading.complain(dotted(entry.path, "cans_in_series"),
                   fmt::format("found {} cans in strings of {}; allowed: a number of cans, all "
                               "counted, that makes whole strings; write for example cans = {}, "
                               "cans_in_series = {}",
                               cans, series, whole * (cans / whole + 1), whole));
  tank.cans_in_series = 1;
}

}  // namespace

void read_tank(Reading& reading, const Entry& entry, Case& to) {
  Tank tank;
  read_table<Tank>(reading, entry, tank_keys, tank);
  const CanLimits limits = tank.can_limits.value_or(CanLimits{});
  const char* shared = limits.current          ? "current limit"
                       : limits.loss           ? "loss limit"
                       : limits.reactive_power ? "limit of reactive power"
                                               : nullptr;
  if (shared != nullptr && !tank.cans) {
    reading.complain(dotted(entry.path, "can_limits"),
                     fmt::format("found a {} for one can but no number of cans; write for example "
                                 "cans = 20 in [tank]",
                                 shared));
  }
  require_whole_strings(reading, entry, tank);
  to.tank = tank;
}

void read_drive(Reading& reading, const Entry& entry, Case& to) {
  if (!is_table(reading, entry) || !kind_is_known(reading, entry)) return;
  read_known(reading, entry, to.drive);
  const auto& table = entry.node.table;
  if (supply_of(to.drive) != nullptr && table.contains("limit_kind") &&
      !table.contains("supply_limit")) {
    reading.complain(
        dotted(entry.path, "limit_kind"),
        "found limit_kind without a limit; write supply_limit = \"32 A\", or remove it");
  }
}

}  // namespace cw::cases
