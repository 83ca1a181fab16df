#pragma once

#include <string>

#include "postproc/result/metals.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// report.html of a comparison of metals: which heat in this coil, and why the others barely warm.
/// One file that loads nothing. `result` is of the case as it is written.
std::string metals_page(const MetalComparison& all, const Result& result);

}  // namespace cw
