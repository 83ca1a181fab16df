#pragma once

#include <filesystem>
#include <string_view>

#include "cases/compare/likely_cause.hpp"

namespace cw::cases {

/// A file of readings: keys `reading_names` with their units, `supply` where the voltage was not
/// that of the case, `accuracy` of the meters (relative, 0.02 where left out). Throws CaseError
/// with every mistake in it; fewer than two readings are one.
Measured read_readings(const std::filesystem::path& file);
Measured read_readings_text(std::string_view text, const std::filesystem::path& file);

}  // namespace cw::cases
