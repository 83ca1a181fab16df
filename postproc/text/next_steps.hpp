#pragma once

#include <string>
#include <vector>

#include "postproc/result/designs.hpp"

namespace cw {

/// How many designs, from the first of the ranking, differ by less than 0.5 % in the rank key,
/// which is less than the accuracy of mesh and model. 1 if the first leads clearly, 0 without any.
std::size_t tied_designs(const DesignSheet& sheet);

/// Sentences that say which keys to widen in which direction: those for which the first design is
/// at an end of the range.
std::vector<std::string> next_steps(const DesignSheet& sheet);

}  // namespace cw
