#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>

namespace cw {

/// Every number of a result by its dotted key: "states.cold.power.workpiece_W" (states by name),
/// "limits.capacitor.current_rms_A.fraction" (limits by part and quantity), "coil.turn_loss_W.0".
using Figures = std::map<std::string, double, std::less<>>;

/// Numbers of a result as JSON; empty for an empty text.
Figures figures_of(const std::string& result);

/// The number of a key; one that names no state means the only state, or `cold` where there are
/// several: "efficiency".
std::optional<double> figure_of(const Figures& figures, const std::string& key);

/// Of a single turn or of another list without names.
bool of_a_list(const std::string& key);

}  // namespace cw
