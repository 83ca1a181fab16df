#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "cases/run/run_case.hpp"
#include "postproc/text/supply_table.hpp"

namespace cw::cases {

/// Solves the case at 12, 24, 36, 48 and 60 V and at its own voltage, every state of each (a
/// saturating load does not scale), the supply's limit and the fuse left out; cable and battery
/// stay as they are. By rising voltage. `progress` is told before each voltage how many are done,
/// of how many, and what comes. Throws CaseError where the drive has no supply; SolveError,
/// MeshError.
std::vector<SupplyChoice> compare_supplies(
    const Case& subject, Effort effort,
    const std::function<void(int, int, const std::string&)>& progress);

/// Writes result.json, `own` of the case as it is written, and tables/supply.csv; see
/// replace_result_directory().
void write_supplies(const std::vector<SupplyChoice>& choices, const Result& own,
                    const std::filesystem::path& directory);

}  // namespace cw::cases
