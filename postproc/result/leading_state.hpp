#pragma once

#include "solver/outcome/result.hpp"

namespace cw {

/// The state with the greatest power of those the heating comes to, of which details are shown;
/// null without states.
const StateResult* leading_state(const Result& result);

}  // namespace cw
