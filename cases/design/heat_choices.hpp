#pragma once

#include <map>
#include <string>
#include <vector>

#include "cases/design/coil_rank.hpp"
#include "solver/outcome/result.hpp"

namespace cw::cases {

/// Heating runs of choices at low effort; an empty result where one cannot be solved.
using HeatedChoices = std::map<Choice, Result>;

/// Heats choices in parallel and adds them to `heated`.
void heat_choices(const ShelfCase& shelf, const std::vector<Choice>& choices,
                  const DesignSearchOptions& options, HeatedChoices& heated);

/// Whether the target is reached in time, within every limit.
bool does_its_job(const Result& result);

/// What the heating runs teach about the promises of a rank: the median of the ratios.
Experience experience_of(const CoilRank& rank, const HeatedChoices& heated);

}  // namespace cw::cases
