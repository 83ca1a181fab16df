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
    Key{"can_limits", optional, keys::table<&Tank::can_limits, CanLimits, can_limit_keys>,
        "{ current = \"9 A\", voltage = \"150 V\" }"},
    Key{"can_warming", optional, read_can_warming, warming_sample},
    Key{"conductor", optional, keys::tables<&Tank::conductors, PathConductor, path_keys>,
        path_sample},
    Key{"joints", optional, keys::table<&Tank::joints, Joints, joint_keys>,
        "{ resistance = \"0.4 mohm\", inductance = \"20 nH\" }"},
};

/// A drive as written, whichever its kind.
struct AnyDrive {
  std::size_t kind = 0;
  PushPullDrive pair;
  Frequency frequency;
  double rms = 0.0;
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

/// By its area, or by the gauge of a solid wire of that area.
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

constexpr std::array<std::string_view, 4> drive_kinds = {PushPullDrive::kind, CurrentDrive::kind,
                                                         VoltageDrive::kind, SeriesTankDrive::kind};
constexpr std::array<std::string_view, 3> limit_kinds = {"fold", "trip", "hiccup"};
constexpr std::string_view choke_sample = "{ count = 2, inductance = \"150 uH\" }";
constexpr std::string_view cable_sample = "{ length = \"2 m\", section = \"16 mm2\" }";

/// Reads a member of the push-pull pair.
template <auto M, D Kind>
void of_pair(Reading& reading, const Entry& entry, AnyDrive& to) {
  keys::quantity<M, Kind>(reading, entry, to.pair);
}

void read_mains(Reading& reading, const Entry& entry, AnyDrive& to) {
  keys::table<&PushPullDrive::mains, Mains, mains_keys>(reading, entry, to.pair);
}

void read_limit_kind(Reading& reading, const Entry& entry, AnyDrive& to) {
  keys::choice<&PushPullDrive::limit_kind, LimitKind, limit_kinds>(reading, entry, to.pair);
}

void read_switch(Reading& reading, const Entry& entry, AnyDrive& to) {
  read_table<Switch>(reading, entry, switch_keys, to.pair.transistor);
}

void read_choke(Reading& reading, const Entry& entry, AnyDrive& to) {
  read_table<Choke>(reading, entry, choke_keys, to.pair.choke);
}

/// By length and section or by resistance, not both, nor half of it.
void read_cable(Reading& reading, const Entry& entry, AnyDrive& to) {
  Cable cable;
  read_table<Cable>(reading, entry, cable_keys, cable);
  to.pair.cable = cable;
  if (entry.node.kind != Node::Kind::table) return;
  const auto has = [&](const char* name) { return entry.node.table.contains(name); };
  if (has("resistance")) {
    constexpr std::array<std::string_view, 2> sizes = {"length", "section"};
    forbid(reading, entry, sizes, "the cable's resistance is written");
  } else if (!has("length") && !has("section")) {
    reading.complain(entry.path, fmt::format("found a cable without a size; write cable = {}, or "
                                             "{{ resistance = \"4 mohm\" }}",
                                             cable_sample));
  } else {
    for (const auto& key : std::span(cable_keys).first(2))
      if (!has(std::string(key.name).c_str())) demand(reading, entry, key.name, key.sample);
  }
}

void read_kind(Reading& reading, const Entry& entry, AnyDrive& to) {
  if (const auto index = read_choice(reading, entry, drive_kinds)) to.kind = *index;
}

constexpr Key<AnyDrive> kind_key{"kind", required, read_kind, "\"push-pull\""};
constexpr Key<AnyDrive> frequency_key{
    "frequency", required, keys::quantity<&AnyDrive::frequency, D::frequency>, "\"60 kHz\""};

constexpr std::array push_pull_keys = {
    Key{"kind", optional, read_kind, "\"push-pull\""},
    Key{"supply", required, of_pair<&PushPullDrive::supply, D::voltage>, "\"36 V\""},
    Key{"supply_limit", optional, of_pair<&PushPullDrive::supply_limit, D::current>, "\"32 A\""},
    Key{"limit_kind", optional, read_limit_kind, "\"fold\""},
    Key{"battery_resistance", optional, of_pair<&PushPullDrive::battery_resistance, D::resistance>,
        "\"12 mohm\""},
    Key{"cable", optional, read_cable, cable_sample},
    Key{"fuse", optional, of_pair<&PushPullDrive::fuse, D::current>, "\"40 A\""},
    Key{"mains", optional, read_mains, mains_sample},
    Key{"switch", optional, read_switch, "{ resistance = \"10 mohm\", voltage_limit = \"150 V\" }"},
    Key{"choke", optional, read_choke, choke_sample},
};

constexpr std::array current_keys = {
    kind_key, frequency_key,
    Key{"rms", required, keys::quantity<&AnyDrive::rms, D::current>, "\"100 A\""}};

constexpr std::array voltage_keys = {
    kind_key, frequency_key,
    Key{"rms", required, keys::quantity<&AnyDrive::rms, D::voltage>, "\"80 V\""}};

/// The keys that go with the kind written; push-pull's when it cannot be told.
std::span<const Key<AnyDrive>> keys_of(const Node& node) {
  const auto kind = node.table.find("kind");
  if (kind == node.table.end()) return push_pull_keys;
  if (kind->second.text == drive_kinds[1]) return current_keys;
  if (kind->second.text == drive_kinds[2] || kind->second.text == drive_kinds[3])
    return voltage_keys;
  return push_pull_keys;
}

/// Whether a drive is of a known kind: written, or that of the only one with a supply. What else
/// is missing depends on it.
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
  read_choice(reading, {path, kind->second, kind_key.sample}, drive_kinds);
  return false;
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
  to.tank = tank;
}

void read_drive(Reading& reading, const Entry& entry, Case& to) {
  AnyDrive any;
  if (!is_table(reading, entry) || !kind_is_known(reading, entry)) return;
  read_table<AnyDrive>(reading, entry, keys_of(entry.node), any);
  if (any.kind == 0) to.drive = any.pair;
  if (any.kind == 1) to.drive = CurrentDrive{any.frequency, any.rms};
  if (any.kind == 2) to.drive = VoltageDrive{any.frequency, any.rms};
  if (any.kind == 3) to.drive = SeriesTankDrive{any.frequency, any.rms};
  if (any.pair.supply_limit || !entry.node.table.contains("limit_kind")) return;
  if (any.kind == 0 && !entry.node.table.contains("supply_limit")) {
    reading.complain(
        dotted(entry.path, "limit_kind"),
        "found limit_kind without a limit; write supply_limit = \"32 A\", or remove it");
  }
}

}  // namespace cw::cases
