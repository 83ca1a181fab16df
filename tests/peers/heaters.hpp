#pragma once

#include <string>
#include <vector>

#include "mesh/section.hpp"
#include "solver/field/turns.hpp"

namespace cw::peers {

/// A heater to be solved here and by another library, each on a mesh of its own: linear media,
/// turns in series with weights 1.
struct Heater {
  std::string name;
  Frequency frequency;
  Section section;  ///< bodies first, then the turns
  Media media;      ///< one per region, air first
  TurnSet turns;
};

/// One heater of each class people build (invented set-ups, sizes as in a workshop).
std::vector<Heater> heaters();

}  // namespace cw::peers
