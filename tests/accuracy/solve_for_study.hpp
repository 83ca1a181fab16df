#pragma once

#include "cases/case.hpp"
#include "cases/run/solve_states.hpp"

namespace cw::accuracy {

// How the cases of the study are solved; everything else in this folder only draws and counts.

/// The one state of a case of fixed frequency, as a user gets it.
cases::SolvedState solve_for_study(const Case& subject, cases::Effort effort);

/// The same, much closer to the truth.
cases::SolvedState solve_reference(const Case& subject);

}  // namespace cw::accuracy
