#pragma once

#include <filesystem>
#include <string_view>

#include "cases/compare/likely_cause.hpp"

namespace cw::cases {

/// A file of readings: keys `reading_names` with their units, `supply` if the voltage was not that
/// of the case, `accuracy` of the meters (relative, default 0.02). Throws CaseError with every
/// mistake in it; fewer than two readings are a mistake.
Measured read_readings(const std::filesystem::path& file);
Measured read_readings_text(std::string_view text, const std::filesystem::path& file);

}  // namespace cw::cases
