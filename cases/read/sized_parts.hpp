#pragma once

#include <string_view>

#include "cases/read/reading.hpp"

namespace cw::cases {

/// Parts that may be described by their size if there is no data sheet: a heat sink, a film can.
/// Their other data follow from usual_parts.hpp; check_case() reports them as assumed.

void read_heat_sink(Reading& reading, const Entry& entry, Switch& to);
inline constexpr std::string_view heat_sink_sample =
    "{ junction_to_case = \"0.5 K/W\", sink_to_air = \"3 K/W\", limit = \"150 degC\" }";

void read_can_warming(Reading& reading, const Entry& entry, Tank& to);

}  // namespace cw::cases
