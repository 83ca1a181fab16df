#pragma once

#include <string>
#include <vector>

#include "postproc/result/designs.hpp"

namespace cw {

/// How many designs of the ranking, from the first, differ by less than 0.5 % in what they are
/// ranked by: less than mesh and model are good for. 1 where the first stands alone, 0 without any.
std::size_t tied_designs(const DesignSheet& sheet);

/// Which keys to widen, and which way: where the design that comes first stands at an end of what
/// was tried. Sentences.
std::vector<std::string> next_steps(const DesignSheet& sheet);

}  // namespace cw
