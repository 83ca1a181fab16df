#pragma once

#include "solver/outcome/result.hpp"

namespace cw {

/// The state with the greatest power among those that the heating reaches, whose details are shown;
/// null without states.
const StateResult* leading_state(const Result& result);

}  // namespace cw
