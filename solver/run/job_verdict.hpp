#pragma once

#include "solver/outcome/result.hpp"

namespace cw {

/// Whether the heating run of a result does the job, what holds it back and what gives out first,
/// from its heat and its limits. The result has a heating run with a target.
JobVerdict job_verdict(const Result& result);

/// The part nearest to its limit; null where none has one. A supply that folds back is told apart;
/// Q, gate time and the work itself are no parts.
const LimitResult* nearest_part(const Result& result);

/// The temperature the target is compared with, at the end: where heating stops getting hotter, if
/// that is below the target, else the last reading [K].
double end_of_heating(const HeatResult& heat);

}  // namespace cw
