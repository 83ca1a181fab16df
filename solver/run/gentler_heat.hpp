#pragma once

#include "solver/run/run_heater.hpp"

namespace cw {

/// Where a limit is passed that a lower supply voltage would keep: solves states and heating run
/// again at the highest voltage that brings every such part to 95 % of its limit, and says in the
/// advice of each how much longer the heat then takes. `run` holds the case's own result. Does
/// nothing without a heating run that reached its target or was stopped by the supply, or when such
/// a voltage would be below a quarter of the case's. Throws SolveError, MeshError.
void advise_of_time(const Heater& subject, Effort effort, Result& result);

}  // namespace cw
