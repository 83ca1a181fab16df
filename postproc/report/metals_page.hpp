#pragma once

#include <string>

#include "postproc/result/metals.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// report.html of a comparison of metals: which metals heat in this coil, and why the others barely
/// warm. One self-contained file. `result` belongs to the case as written.
std::string metals_page(const MetalComparison& all, const Result& result);

}  // namespace cw
