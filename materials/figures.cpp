#include "materials/figures.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace cw {

namespace {

/// Exponent of ten of the value after rounding to three figures: 9.996 becomes 10.0, so 1.
int rounded_exponent(double value) {
  if (value == 0.0) return 0;
  const int exponent = static_cast<int>(std::floor(std::log10(std::abs(value))));
  const double mantissa = std::abs(value) / std::pow(10.0, exponent);
  if (mantissa >= 9.995) return exponent + 1;
  // The logarithm may have been rounded up: 0.99999 of a decade counts as the decade, 0.99 does
  // not.
  return mantissa < 0.9995 ? exponent - 1 : exponent;
}

std::string without_trailing_zeros(std::string text) {
  if (text.find('.') == std::string::npos) return text;
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace

std::string figure(double value) {
  if (!std::isfinite(value))
    return "?";  // only from a result file that was edited, never from a
                 // run
  if (value == 0.0) return "0";
  const int exponent = rounded_exponent(value);
  if (exponent > 2) {
    const double step = std::pow(10.0, exponent - 2);
    return fmt::format("{:.0f}", std::round(value / step) * step);
  }
  return fmt::format("{:.{}f}", value, 2 - exponent);
}

std::string figure(double value, std::string_view unit) {
  constexpr std::array<std::string_view, 8> prefixes = {"p", "n", "u", "m", "", "k", "M", "G"};
  if (value == 0.0 || !std::isfinite(value)) return fmt::format("{} {}", figure(value), unit);
  const int thousands = static_cast<int>(std::floor(rounded_exponent(value) / 3.0));
  const int power = std::clamp(thousands, -4, 3);
  const auto* prefix = prefixes.begin() + 4 + power;
  return fmt::format("{} {}{}", figure(value / std::pow(10.0, 3 * power)), *prefix, unit);
}

std::string percent(double share) {
  return figure(100.0 * share) + " %";
}

std::string figure_short(double value) {
  return without_trailing_zeros(figure(value));
}

std::string millimetres(double metres) {
  const std::string text = without_trailing_zeros(fmt::format("{:.2f}", 1e3 * metres));
  return text == "-0" ? "0" : text;
}

}  // namespace cw
