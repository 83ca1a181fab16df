#pragma once

#include "cases/read/reading.hpp"

namespace cw::cases {

// One function for each section of a case file; each reports every mistake that it finds.

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

/// The value at this share of the range, in the form of a case file: "7.5 mm".
std::string sweep_value(const SweepRange& range, double share);

/// The library material of this name, or that of a file: a text with '/' or ending in ".toml",
/// relative to the case file. An empty text gives an empty material.
Material resolve_material(Reading& reading, const std::string& key, const std::string& text);

}  // namespace cw::cases
