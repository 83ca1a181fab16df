#pragma once

#include <string>
#include <vector>

#include "cases/compare/power_up.hpp"

namespace cw::cases {

/// A possible fault of a heater.
struct Fault {
  enum class Kind { sound, missing_can, shorted_turn, longer_leads, fewer_turns, wrong_steel };
  Kind kind = Kind::sound;
  int cans = 0;               ///< missing
  std::size_t turn = 0;       ///< shorted, from 0
  double lead = 0.0;          ///< additional, one way [m]
  double turns = 0.0;         ///< missing
  std::string material = {};  ///< actual one of the workpiece
};

/// The fault in words: "one can of 8 missing", "turn 3 shorted".
std::string in_words(const Fault& fault, const Case& subject);

/// The readings with this fault. Empty values if the tank does not ring.
ReadingValues readings_with(const Case& subject, const Fault& fault, Effort effort);

/// Every fault to try for a heater, `sound` first; lengths of lead rising.
std::vector<Fault> possible_faults(const Case& subject);

}  // namespace cw::cases
