#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace cw {

/// Every number of a result by its dotted key: "states.cold.power.workpiece_W" (states by name),
/// "limits.capacitor.current_rms_A.fraction" (limits by part and quantity), "coil.turn_loss_W.0".
using Figures = std::map<std::string, double, std::less<>>;

/// Numbers of a result as JSON; empty for an empty text.
Figures figures_of(const std::string& result);

/// The number of a key; one that names no state means the only state, or `cold` where there are
/// several: "efficiency".
std::optional<double> figure_of(const Figures& figures, const std::string& key);

/// The keys a result may have numbers for, in the order of the file: "states.*.power.coil_W", where
/// "*" stands for a name or a place in a list.
std::vector<std::string> number_keys();

/// Whether a key is one of a pattern of number_keys().
bool fits(std::string_view key, std::string_view pattern);

/// Of a single turn or of another list without names.
bool of_a_list(const std::string& key);

}  // namespace cw
