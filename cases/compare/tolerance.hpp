#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "cases/case.hpp"
#include "cases/compare/power_up.hpp"

namespace cw::cases {

/// What may be off its written value, in this order everywhere.
inline constexpr std::size_t tolerance_parts = 4;
inline constexpr std::array<const char*, tolerance_parts> tolerance_words = {
    "capacitance", "gap", "permeability", "resistivity"};

/// Where each part stands in its tolerance, from -1 to 1; permeability by its logarithm.
using Deviation = std::array<double, tolerance_parts>;

/// What is looked at. The supply's limit is off: with it the figures have kinks, and what the
/// heater asks for would not be seen.
enum class Outcome { frequency, supply_current, work_power };
inline constexpr std::size_t outcome_count = 3;
using Outcomes = std::array<double, outcome_count>;  ///< [Hz], [A], [W]

/// A heater with the work at one temperature.
struct ToleranceState {
  std::string name;  ///< "cold", "at_target"
  Temperature work;
};
std::vector<ToleranceState> tolerance_states(const Case& subject);

/// One figure of one state.
struct OutcomeBand {
  double nominal = 0.0;
  double low = 0.0, high = 0.0;  ///< nine heaters in ten lie between
  /// Half of what each part moves it from one end of its tolerance to the other, relative.
  Deviation by_part = {};
  std::size_t largest = 0;  ///< the part that moves it most
};

struct ToleranceBands {
  std::string state;
  std::array<OutcomeBand, outcome_count> of;
  int solves = 0;
};

/// Each part at both ends of its tolerance, and each pair at its upper ends: full squares in the
/// logarithm of every figure, 15 solves for four parts. The bands are those of many heaters drawn
/// from them, each part anywhere in its tolerance with the same chance. The case must have a
/// drive with a supply.
ToleranceBands tolerance_bands(const Case& subject, const ToleranceState& state,
                               const std::function<void(int, int)>& progress = {});

/// Time to target of the heating run, with the supply's limit on [s].
struct TimeBand {
  std::optional<OutcomeBand> band;  ///< empty: some variant does not get there
  /// "gap at its upper end", ...; "as written" when not even that reaches its target.
  std::vector<std::string> not_reached;
  int runs = 0;  ///< whole heating runs made
};

/// As tolerance_bands(), without the pairs: the case as written, and each part at both ends of its
/// tolerance without sleeves and liners, which would be in the way of a narrower gap; their
/// changes are taken to be those of the case as written. Requires heat.target. Takes as long as its
/// runs: on the fast mesh some seconds each.
TimeBand time_band(const Case& subject, const std::function<void(int, int)>& progress = {});

/// The same bands by solving so many heaters in full: slow, for comparison.
ToleranceBands solved_bands(const Case& subject, const ToleranceState& state, int heaters);

/// Both as a table of 80 columns.
std::string tolerance_text(const Case& subject, const std::vector<ToleranceBands>& bands);

/// The lines of the heating run below it.
std::string time_text(const TimeBand& time);

}  // namespace cw::cases
