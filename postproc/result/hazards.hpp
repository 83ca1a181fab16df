#pragma once

#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// What is dangerous about heating these very metals this far: fume of zinc, cadmium, lead and
/// beryllium, fire of magnesium and titanium, bodies that enclose air. Metals are known by their
/// names and titles, coatings by the case; each is told from the temperature on at which it
/// matters.
std::vector<Caution> hazards(const Result& result);

}  // namespace cw
