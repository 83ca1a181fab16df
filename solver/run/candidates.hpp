#pragma once

#include "solver/heater/heater.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// A changed heater, and the changes.
struct Candidate {
  Heater heater;
  std::vector<Remedy::Step> steps;
};

/// Changes worth trying, one step each: turns, bore and pitch, as far as the coil can be built
/// round the work; whole cans; usual supply voltages and the voltage that would keep the limits of
/// `result`; a sleeve of ceramic fibre if there is room; more time.
std::vector<Candidate> candidates(const Heater& heater, const Result& result);

/// The heater with these steps made.
Heater changed(const Heater& heater, std::vector<Remedy::Step> steps);

/// "10 turns instead of 6"
std::string words_of(const Remedy::Step& step, const Heater& heater);

}  // namespace cw
