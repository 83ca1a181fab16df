#pragma once

#include <filesystem>

#include "cases/case.hpp"
#include "solver/coupled/heating_state.hpp"
#include "solver/run/section_of_heater.hpp"

namespace cw::cases {

/// Where the heating run of a result directory is kept while it goes on: a file beside it.
std::filesystem::path checkpoint_of(const std::filesystem::path& directory);

/// Written beside `path` and renamed: a reader finds the old or the new one, never half. Throws
/// WriteError.
void write_checkpoint(const std::filesystem::path& path, const Case& subject, Effort effort,
                      const HeatingState& state);

/// None when there is no such file. Throws CaseError when it is of another case, accuracy or
/// program, when a file that the case names was edited since, or when a byte of it is damaged.
std::optional<HeatingState> read_checkpoint(const std::filesystem::path& path, const Case& subject,
                                            Effort effort);

}  // namespace cw::cases
