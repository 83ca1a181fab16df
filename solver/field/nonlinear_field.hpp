#pragma once

#include "solver/field/newton.hpp"

namespace cw {

/// A saturating field, solved.
struct SaturatedField {
  /// At its true amplitude. The media of saturating regions hold the reluctivity and conductivity
  /// that give the right energy and loss of the whole region, so that magnetic_energy() and
  /// region_losses() are right; local figures need reluctivity_at().
  FieldSolution field;
  std::vector<SaturatedCell> cells;
  NewtonReport report;
};

}  // namespace cw
