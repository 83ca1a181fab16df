#pragma once

#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// The dangers of heating these metals to these temperatures: fume of zinc, cadmium, lead and
/// beryllium, fire of magnesium and titanium, bodies that enclose air. Metals are recognised by
/// their names and titles, coatings come from the case. Each hazard appears from the temperature at
/// which it matters.
std::vector<Caution> hazards(const Result& result);

}  // namespace cw
