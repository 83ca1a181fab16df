#pragma once

#include <array>

#include "cases/read/reading.hpp"

namespace cw::cases {

// Keys of the tables that describe parts of the heater; each is nested in a section of its own.

inline constexpr std::array warming_keys = {
    Key<Warming>{"heat_capacity", Need::required,
                 keys::quantity<&Warming::heat_capacity, Dimension::thermal_capacity>,
                 "\"20 J/K\""},
    Key<Warming>{"to_air", Need::required,
                 keys::quantity<&Warming::to_air, Dimension::thermal_resistance>, "\"12 K/W\""},
    Key<Warming>{"limit", Need::required, keys::quantity<&Warming::limit, Dimension::temperature>,
                 "\"85 degC\""},
};
inline constexpr std::string_view warming_sample =
    "{ heat_capacity = \"20 J/K\", to_air = \"12 K/W\", limit = \"85 degC\" }";

inline constexpr std::array core_keys = {
    Key<ChokeCore>{"outer", Need::required, keys::quantity<&ChokeCore::outer, Dimension::length>,
                   "\"47 mm\""},
    Key<ChokeCore>{"inner", Need::required, keys::quantity<&ChokeCore::inner, Dimension::length>,
                   "\"24 mm\""},
    Key<ChokeCore>{"height", Need::required, keys::quantity<&ChokeCore::height, Dimension::length>,
                   "\"18 mm\""},
    Key<ChokeCore>{"permeability", Need::optional, keys::number<&ChokeCore::permeability>, "60"},
    Key<ChokeCore>{"al", Need::optional,
                   keys::quantity<&ChokeCore::inductance_factor, Dimension::inductance_per_turn2>,
                   "\"135 nH\""},
    Key<ChokeCore>{"saturation", Need::optional,
                   keys::quantity<&ChokeCore::saturation, Dimension::flux_density>, "\"1 T\""},
    Key<ChokeCore>{"bias_80", Need::optional,
                   keys::quantity<&ChokeCore::bias_80, Dimension::field_strength>, "\"3.5 kA/m\""},
    Key<ChokeCore>{"bias_50", Need::optional,
                   keys::quantity<&ChokeCore::bias_50, Dimension::field_strength>, "\"8 kA/m\""},
    Key<ChokeCore>{"wire", Need::required, keys::quantity<&ChokeCore::wire, Dimension::length>,
                   "\"2 mm\""},
};
inline constexpr std::string_view core_sample =
    "{ outer = \"47 mm\", inner = \"24 mm\", height = \"18 mm\", permeability = 60, wire = \"2 "
    "mm\" }";

inline constexpr std::array heat_sink_keys = {
    Key<HeatSink>{"junction_to_case", Need::required,
                  keys::quantity<&HeatSink::junction_to_case, Dimension::thermal_resistance>,
                  "\"0.5 K/W\""},
    Key<HeatSink>{"case_to_sink", Need::optional,
                  keys::quantity<&HeatSink::case_to_sink, Dimension::thermal_resistance>,
                  "\"0.4 K/W\""},
    Key<HeatSink>{"sink_to_air", Need::optional,
                  keys::quantity<&HeatSink::sink_to_air, Dimension::thermal_resistance>,
                  "\"3 K/W\""},
    Key<HeatSink>{"junction_to_air", Need::optional,
                  keys::quantity<&HeatSink::junction_to_air, Dimension::thermal_resistance>,
                  "\"40 K/W\""},
    Key<HeatSink>{"heat_capacity", Need::optional,
                  keys::quantity<&HeatSink::heat_capacity, Dimension::thermal_capacity>,
                  "\"3 J/K\""},
    Key<HeatSink>{"limit", Need::optional,
                  keys::quantity<&HeatSink::junction_limit, Dimension::temperature>,
                  "\"150 degC\""},
};
inline constexpr std::string_view heat_sink_sample =
    "{ junction_to_case = \"0.5 K/W\", sink_to_air = \"3 K/W\", limit = \"150 degC\" }";

inline constexpr std::array<std::string_view, 2> conductor_kinds = {"board", "bar"};
inline constexpr std::array path_keys = {
    Key<PathConductor>{"name", Need::required, keys::text<&PathConductor::name>, "\"busbar\""},
    Key<PathConductor>{"kind", Need::required,
                       keys::choice<&PathConductor::kind, ConductorKind, conductor_kinds>,
                       "\"bar\""},
    Key<PathConductor>{"width", Need::required,
                       keys::quantity<&PathConductor::width, Dimension::length>, "\"20 mm\""},
    Key<PathConductor>{"thickness", Need::required,
                       keys::quantity<&PathConductor::thickness, Dimension::length>, "\"2 mm\""},
    Key<PathConductor>{"length", Need::required,
                       keys::quantity<&PathConductor::length, Dimension::length>, "\"120 mm\""},
    Key<PathConductor>{"solder", Need::optional,
                       keys::quantity<&PathConductor::solder, Dimension::length>, "\"0.2 mm\""},
    Key<PathConductor>{"strap", Need::optional,
                       keys::quantity<&PathConductor::strap, Dimension::length>, "\"1 mm\""},
    Key<PathConductor>{"in_parallel", Need::optional, keys::whole<&PathConductor::in_parallel>,
                       "2"},
    Key<PathConductor>{"rise", Need::optional,
                       keys::quantity<&PathConductor::rise, Dimension::temperature_difference>,
                       "\"40 K\""},
};
inline constexpr std::string_view path_sample =
    "[{ name = \"busbar\", kind = \"bar\", width = \"20 mm\", thickness = \"2 mm\", length = "
    "\"120 mm\" }]";

inline constexpr std::array mains_keys = {
    Key<Mains>{"efficiency", Need::required, keys::number<&Mains::efficiency>, "0.9"},
    Key<Mains>{"price_per_kWh", Need::optional, keys::number<&Mains::price_per_kWh>, "0.30"},
};
inline constexpr std::string_view mains_sample = "{ efficiency = 0.9, price_per_kWh = 0.30 }";

/// What goes with what in them; to be called behind read_table().
void finish_core(Reading& reading, const Entry& entry);
void finish_heat_sink(Reading& reading, const Entry& entry);

}  // namespace cw::cases
