#pragma once

#include <string>
#include <vector>

#include "postproc/result/metals.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// tables/metals.csv: one line per metal and frequency, full precision, SI units in the header.
std::string metals_table(const MetalComparison& all);

/// tables/reasons.csv: one sentence per metal, at the case's frequency.
std::string reasons_table(const MetalComparison& all);

/// The largest estimates of the mesh's errors, over all metals and frequencies, in one sentence.
std::string metals_errors(const MetalComparison& all);

/// Where the model is less accurate: magnetic metals, thin parts, and the warnings of `result`.
std::vector<std::string> metals_warnings(const MetalComparison& all, const Result& result);

/// For a terminal, at most 80 columns: the metals at the case's frequency, the notable ones in
/// words, the warnings and cautions of `result`.
std::string metals_text(const MetalComparison& all, const Result& result);

}  // namespace cw
