#pragma once

#include "cases/read/reading.hpp"

namespace cw::cases {

// One function for each section of a case file; each complains of every mistake it finds.

void read_workpiece(Reading& reading, const Entry& entry, Case& to);
void read_bodies(Reading& reading, const Entry& entry, Case& to);
void read_coil(Reading& reading, const Entry& entry, Case& to);
void read_tank(Reading& reading, const Entry& entry, Case& to);
void read_drive(Reading& reading, const Entry& entry, Case& to);
void read_heat(Reading& reading, const Entry& entry, Case& to);
void read_sweep(Reading& reading, const Entry& entry, Case& to);
void read_nearby(Reading& reading, const Entry& entry, Case& to);
void read_commissioning(Reading& reading, const Entry& entry, Case& to);
void read_tolerance(Reading& reading, const Entry& entry, Case& to);
void read_shelf(Reading& reading, const Entry& entry, Case& to);

/// The value a share of the way through the range, as it would stand in a file: "7.5 mm".
std::string sweep_value(const SweepRange& range, double share);

/// The material of that library name, or of that file: a text with '/' or ending in ".toml",
/// relative to the case file. An empty text (not written) gives an empty material.
Material resolve_material(Reading& reading, const std::string& key, const std::string& text);

}  // namespace cw::cases
