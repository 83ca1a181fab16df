#pragma once

#include <string>

#include "tests/accuracy/draw.hpp"
#include "tests/accuracy/random_work.hpp"

namespace cw::accuracy {

/// The section [coil] of a case.
struct RandomCoil {
  std::string text;
  std::string shape;         ///< helix, flat, cone, rings
  std::string conductor;     ///< see Classes::conductor
  bool before_face = false;  ///< a flat coil in front of the work, not round it
};

/// A coil wide enough for the work, or one in front of it.
RandomCoil random_coil(Draw& draw, const Work& work);

}  // namespace cw::accuracy
