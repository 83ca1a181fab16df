#pragma once

#include <compare>
#include <numbers>

namespace cw {

/// Vacuum permeability [H/m]. The pre-2019 value: CODATA 2018 differs by 5.5e-10, below every
/// tolerance here.
inline constexpr double mu0 = 4e-7 * std::numbers::pi;

/// 0 degC in kelvin (exact by the definition of the Celsius scale).
inline constexpr double zero_celsius = 273.15;

/// A frequency that cannot be mistaken for an angular one. All fields vary as exp(+j omega t).
struct Frequency {
  double hertz = 0.0;
  [[nodiscard]] constexpr double omega() const { return 2.0 * std::numbers::pi * hertz; }
  // NOLINTNEXTLINE(modernize-use-nullptr): clang-tidy 14 misreads the defaulted comparison
  auto operator<=>(const Frequency&) const = default;
};

/// An absolute temperature that cannot be mistaken for one on the other scale.
struct Temperature {
  double kelvin = 0.0;
  [[nodiscard]] static constexpr Temperature celsius(double t) { return {t + zero_celsius}; }
  [[nodiscard]] constexpr double in_celsius() const { return kelvin - zero_celsius; }
  // NOLINTNEXTLINE(modernize-use-nullptr): clang-tidy 14 misreads the defaulted comparison
  auto operator<=>(const Temperature&) const = default;
};

}  // namespace cw
