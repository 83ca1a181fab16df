#pragma once

#include "postproc/chart/chart.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

// The charts of a result; empty if there is nothing to show.

/// Every part as a share of its limit.
std::optional<Chart> limits_chart(const Result& result);
/// Where the power goes, state by state.
std::optional<Chart> powers_chart(const Result& result);
/// Supply current demanded against the temperature of the work, with the limit.
std::optional<Chart> demand_chart(const Result& result);
/// Frequency against the temperature of the work.
std::optional<Chart> frequency_chart(const Result& result);
/// Loss of every ring of the coil, state by state.
std::optional<Chart> rings_chart(const Result& result);

/// Temperatures against time, with the target.
std::optional<Chart> heating_chart(const Result& result);
/// Powers against time.
std::optional<Chart> heating_power_chart(const Result& result);
/// Supply current against the temperature of the surface, with the limit.
std::optional<Chart> heating_supply_chart(const Result& result);
/// Frequency against the temperature of the surface.
std::optional<Chart> heating_frequency_chart(const Result& result);
/// Power in and power lost against the mean temperature, with the point at which they are equal.
std::optional<Chart> heating_balance_chart(const Result& result);

/// Temperature of a coil without water against time, on and off.
std::optional<Chart> tube_chart(const Result& result);
/// Stray field against distance, with the reference levels.
std::optional<Chart> stray_field_chart(const Result& result);

/// All of them, in the order of the page.
std::vector<Chart> charts_of(const Result& result);

}  // namespace cw
