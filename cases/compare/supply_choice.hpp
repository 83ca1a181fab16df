#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "cases/run/run_case.hpp"
#include "postproc/text/supply_table.hpp"

namespace cw::cases {

/// Solves the case at 12, 24, 36, 48 and 60 V and at its own voltage, every state of each (a
/// saturating load does not scale), without the supply's limit and the fuse; cable and battery are
/// unchanged. By rising voltage. Before each voltage `progress` gets how many are done, of how
/// many, and the next one. Throws CaseError if the drive has no supply; SolveError, MeshError.
std::vector<SupplyChoice> compare_supplies(
    const Case& subject, Effort effort,
    const std::function<void(int, int, const std::string&)>& progress);

/// Writes result.json with `own`, the result of the case as written, and tables/supply.csv; see
/// replace_result_directory().
void write_supplies(const std::vector<SupplyChoice>& choices, const Result& own,
                    const std::filesystem::path& directory);

}  // namespace cw::cases
