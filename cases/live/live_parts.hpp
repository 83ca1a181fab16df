#pragma once

#include <string>
#include <utility>
#include <vector>

#include "cases/case.hpp"
#include "solver/run/run_heater.hpp"

namespace cw::cases {

// The parts of the page that show a result, as markup in the words of the report.

/// The answer in a sentence, with what holds the heater back. `heating_follows`: of the states
/// alone, while the heating run is being solved.
std::string verdict_part(const Result& result, bool heating_follows);
/// A table of the states: working point, supply, power into the work, efficiency.
std::string states_part(const std::vector<StateResult>& states);
/// Every value that has a limit, with its share of it and a word: ok, near, past.
std::string limits_part(const Result& result);
/// A part, how near it is to its limit in one word, and in which state.
struct LimitLamp {
  std::string part, state;
  const char* word = "ok";  ///< ok, near, past
  std::string nearness;     ///< "96.6 %" of the limit; of a minimum, value and limit
};
/// Of every part in limits_part, the most loaded first.
std::vector<LimitLamp> limit_lamps(const Result& result);
/// Where the model is less accurate; empty if it is not.
std::string warnings_part(const Result& result);
/// The cautions of the design, a line each; and all of them in full.
std::string care_part(const Result& result);
std::string cautions_part(const Result& result);
/// The charts of the demand while the work warms, and of the heating run; empty without them.
std::string demand_part(const Result& result);
std::string heating_part(const Result& result);
/// The field of the state with the greatest power.
std::string field_part(const Run& run, const Case& subject);

/// Name and value of the figures by which variants are compared; both plain text.
std::vector<std::pair<std::string, std::string>> compared_figures(const Result& result);

}  // namespace cw::cases
