#pragma once

#include "cases/case.hpp"
#include "solver/run/solve_states.hpp"

namespace cw::accuracy {

// How the cases of the study are solved; everything else in this folder only draws and counts.

/// The one state of a case of fixed frequency, as a user gets it.
cw::SolvedState solve_for_study(const Case& subject, cw::Effort effort);

/// The same, much closer to the truth.
cw::SolvedState solve_reference(const Case& subject);

}  // namespace cw::accuracy
