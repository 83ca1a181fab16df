#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// Whether the heater does its job.
enum class Answer {
  yes,
  at_supply_limit,  ///< yes; the supply folds its voltage back on the way
  past_limits,      ///< the target is reached, but not within the limits of the parts
  no,
  unknown  ///< the run was stopped
};

/// What holds the heater back from its target.
enum class Bottleneck {
  none,
  supply_folds,  ///< the load demands more current than the supply gives
  supply_trips,  ///< the same, and the supply switches off
  loaded_q,      ///< the tank is damped so much that it may not start
  coupling,      ///< coil and circuit take most of the power
  losses,        ///< the work loses as much heat as it gets
  part,          ///< a part would exceed its limit
  time           ///< it is still getting hotter when the run ends
};

/// The answer to whether the heater does its job. Terminal, page and result.json all use these
/// words.
struct JobVerdict {
  Answer answer = Answer::unknown;
  Bottleneck bottleneck = Bottleneck::none;
  std::string sentence;   ///< the answer
  std::string why;        ///< what holds it back; empty if nothing does
  std::string first_out;  ///< the part that is nearest to its limit, and in which state; empty: no
                          ///< part has a limit
};

/// The property of a heater that a remedy changes.
enum class Knob {
  turns,
  bore,
  pitch,
  cans,  ///< of the same size: the capacitance of the bank changes
  capacitance,
  supply,
  insulation,
  time,
  finer_cans  ///< more cans of less capacitance each: the capacitance of the bank stays
};

/// A change of the heater. It was solved, including the heating run.
struct Remedy {
  struct Step {
    Knob knob = Knob::turns;
    double from = 0.0,
           to = 0.0;  ///< [1, m, m, 1, F, V, m, s, 1]; a sleeve: inner radius, thickness
  };
  std::vector<Step> steps;                    ///< all made together
  std::string change;                         ///< in words: "10 turns instead of 6"
  std::string outcome;                        ///< in words: "target after 96 s, supply at 81 %"
  bool reached = false;                       ///< the target
  std::optional<double> time_to_target;       ///< [s]
  Temperature end;                            ///< of the reading, or where heating stops
  std::optional<double> largest_fraction;     ///< of a part's limit
  std::string nearest_part;                   ///< the part with this fraction
  std::vector<std::string> past_their_limit;  ///< parts
};

}  // namespace cw
