#pragma once

#include <string>
#include <string_view>

namespace cw {

/// A number for display: three significant figures and an SI prefix from p to G, "1.02 uH", "23.4
/// mohm", "0 W". ASCII; a decimal point in any locale. Requires a finite value.
std::string figure(double value, std::string_view unit);

/// Three significant figures without prefix: "0.0123", "148", "1520".
std::string figure(double value);

/// As figure(), without trailing zeros, for ticks of a scale: "0.02", "1.5", "400".
std::string figure_short(double value);

/// A share of one in per cent, "84.2 %".
std::string percent(double share);

/// A length in millimetres without its unit, at most two decimals and no trailing zeros: "32",
/// "7.5".
std::string millimetres(double metres);

}  // namespace cw
