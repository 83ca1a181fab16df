#pragma once

#include <filesystem>

#include "cases/case.hpp"
#include "solver/coupled/heating_state.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw::cases {

/// The checkpoint of a result directory's heating run while it continues: a file beside the
/// directory.
std::filesystem::path checkpoint_of(const std::filesystem::path& directory);

/// Written beside `path` and renamed: a reader finds the old or the new one, never half. Throws
/// WriteError.
void write_checkpoint(const std::filesystem::path& path, const Case& subject, Effort effort,
                      const HeatingState& state);

/// Nothing if there is no such file. Throws CaseError if it belongs to another case, accuracy or
/// program, if a file named by the case was edited since, or if any byte is damaged.
std::optional<HeatingState> read_checkpoint(const std::filesystem::path& path, const Case& subject,
                                            Effort effort);

}  // namespace cw::cases
