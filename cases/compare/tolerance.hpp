#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "cases/case.hpp"
#include "cases/compare/power_up.hpp"

namespace cw::cases {

/// Quantities that may deviate from their stated values, always in this order.
inline constexpr std::size_t tolerance_parts = 4;
inline constexpr std::array<const char*, tolerance_parts> tolerance_words = {
    "capacitance", "gap", "permeability", "resistivity"};

/// Position of each part in its tolerance, from -1 to 1; permeability by its logarithm.
using Deviation = std::array<double, tolerance_parts>;

/// The figures of the study. The supply's limit is off: with it the figures have kinks, and the
/// demand of the heater would not be seen.
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
  double low = 0.0, high = 0.0;  ///< nine heaters in ten lie in this range
  /// Half the relative change of the figure from one end of a part's tolerance to the other.
  Deviation by_part = {};
  std::size_t largest = 0;  ///< the part with the largest effect
};

struct ToleranceBands {
  std::string state;
  std::array<OutcomeBand, outcome_count> of;
  int solves = 0;
};

/// Solves each part at both ends of its tolerance, and each pair at its upper ends: second-order
/// polynomials in the logarithm of every figure, 15 solutions for four parts. The ranges are those
/// of many random heaters evaluated with them, each part uniform in its tolerance. The case must
/// have a drive with a supply.
ToleranceBands tolerance_bands(const Case& subject, const ToleranceState& state,
                               const std::function<void(int, int)>& progress = {});

/// Time to target of the heating run, with the supply's limit in effect [s].
struct TimeBand {
  std::optional<OutcomeBand> band;  ///< empty: some variant does not reach the target
  /// "gap at its upper end", ...; "as written" if even that does not reach its target.
  std::vector<std::string> not_reached;
  int runs = 0;  ///< number of heating runs
};

/// Like tolerance_bands(), without the pairs. The case as written, and each part at both ends of
/// its tolerance without sleeves and liners, which would be in the way of a narrower gap; the
/// changes are taken to be the same with them. Requires heat.target. On the fast mesh each run
/// takes some seconds.
TimeBand time_band(const Case& subject, const std::function<void(int, int)>& progress = {});

/// The same ranges from this many heaters, each solved in full: slow, for comparison.
ToleranceBands solved_bands(const Case& subject, const ToleranceState& state, int heaters);

/// Both as a table of 80 columns.
std::string tolerance_text(const Case& subject, const std::vector<ToleranceBands>& bands);

/// The lines of the heating run below it.
std::string time_text(const TimeBand& time);

}  // namespace cw::cases
