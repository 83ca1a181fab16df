#pragma once

#include <array>

#include "cases/read/reading.hpp"

namespace cw::cases {

using D = Dimension;
using enum Need;

// Keys of the tables that describe parts of the heater; each table is inside another section.

inline constexpr std::array warming_keys = {
    Key{"heat_capacity", required, keys::quantity<&Warming::heat_capacity, D::thermal_capacity>,
        "\"20 J/K\""},
    Key{"to_air", required, keys::quantity<&Warming::to_air, D::thermal_resistance>, "\"12 K/W\""},
    Key{"limit", required, keys::quantity<&Warming::limit, D::temperature>, "\"85 degC\""},
};
inline constexpr std::string_view warming_sample =
    "{ heat_capacity = \"20 J/K\", to_air = \"12 K/W\", limit = \"85 degC\" }";

inline constexpr std::array core_keys = {
    Key{"outer", required, keys::quantity<&ChokeCore::outer, D::length>, "\"47 mm\""},
    Key{"inner", required, keys::quantity<&ChokeCore::inner, D::length>, "\"24 mm\""},
    Key{"height", required, keys::quantity<&ChokeCore::height, D::length>, "\"18 mm\""},
    Key{"permeability", optional, keys::number<&ChokeCore::permeability>, "60"},
    Key{"al", optional, keys::quantity<&ChokeCore::inductance_factor, D::inductance_per_turn2>,
        "\"135 nH\""},
    Key{"saturation", optional, keys::quantity<&ChokeCore::saturation, D::flux_density>, "\"1 T\""},
    Key{"bias_80", optional, keys::quantity<&ChokeCore::bias_80, D::field_strength>,
        "\"3.5 kA/m\""},
    Key{"bias_50", optional, keys::quantity<&ChokeCore::bias_50, D::field_strength>, "\"8 kA/m\""},
    Key{"wire", required, keys::wire<&ChokeCore::wire>, "\"2 mm\""},
};
inline constexpr std::string_view core_sample =
    "{ outer = \"47 mm\", inner = \"24 mm\", height = \"18 mm\", permeability = 60, wire = \"2 "
    "mm\" }";

inline constexpr std::array<std::string_view, 2> conductor_kinds = {"board", "bar"};
inline constexpr std::array path_keys = {
    Key{"name", required, keys::text<&PathConductor::name>, "\"busbar\""},
    Key{"kind", required, keys::choice<&PathConductor::kind, ConductorKind, conductor_kinds>,
        "\"bar\""},
    Key{"width", required, keys::quantity<&PathConductor::width, D::length>, "\"20 mm\""},
    Key{"thickness", required, keys::quantity<&PathConductor::thickness, D::length>, "\"2 mm\""},
    Key{"length", required, keys::quantity<&PathConductor::length, D::length>, "\"120 mm\""},
    Key{"solder", optional, keys::quantity<&PathConductor::solder, D::length>, "\"0.2 mm\""},
    Key{"strap", optional, keys::quantity<&PathConductor::strap, D::length>, "\"1 mm\""},
    Key{"in_parallel", optional, keys::whole<&PathConductor::in_parallel>, "2"},
    Key{"rise", optional, keys::quantity<&PathConductor::rise, D::temperature_difference>,
        "\"40 K\""},
};
inline constexpr std::string_view path_sample =
    "[{ name = \"busbar\", kind = \"bar\", width = \"20 mm\", thickness = \"2 mm\", length = "
    "\"120 mm\" }]";

inline constexpr std::array mains_keys = {
    Key{"efficiency", required, keys::number<&Mains::efficiency>, "0.9"},
    Key{"price_per_kWh", optional, keys::number<&Mains::price_per_kWh>, "0.30"},
};
inline constexpr std::string_view mains_sample = "{ efficiency = 0.9, price_per_kWh = 0.30 }";

/// Checks which keys go together; call after read_table().
void finish_core(Reading& reading, const Entry& entry);

}  // namespace cw::cases
