#pragma once

#include "solver/outcome/result.hpp"

namespace cw {

/// Whether the heating run of a result does the job, what holds it back and which part gives out
/// first; from its heat and its limits. The result has a heating run with a target.
JobVerdict job_verdict(const Result& result);

/// The part nearest to its limit; null if no part has a limit. A supply that folds back is
/// excluded, since the verdict names it separately. Q, gate time and the work itself are not parts.
const LimitResult* nearest_part(const Result& result);

/// The temperature that is compared with the target, at the end [K]: where heating stops, if that
/// is below the target, else the last reading.
double end_of_heating(const HeatResult& heat);

}  // namespace cw
