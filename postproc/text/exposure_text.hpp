#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// The section "Stray field" of the terminal summary, at most 80 columns. Empty without levels.
std::string exposure_text(const ExposureResult& exposure);

}  // namespace cw
