#pragma once

#include "cases/case.hpp"
#include "solver/run/solve_states.hpp"

namespace cw::accuracy {

// How the cases of the study are solved; everything else in this folder only generates and counts.

/// The one state of a case of fixed frequency, as in a run.
cw::SolvedState solve_for_study(const Case& subject, cw::Effort effort);

/// The same, far more accurate.
cw::SolvedState solve_reference(const Case& subject);

}  // namespace cw::accuracy
