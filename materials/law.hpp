#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// Provenance of a number that was recalled and not looked up; printed like this beside its source.
inline constexpr std::string_view recalled_unchecked = "recalled, not checked";

/// Where a number comes from. `read`: seen in the source or a copy of it.
struct Source {
  std::string text;
  std::string provenance;  ///< "read" | recalled_unchecked | "user"
};

/// Points (T, value), linear between, constant beyond the ends (see `Law::covers`).
struct Table {
  std::vector<double> kelvin;  ///< strictly rising
  std::vector<double> value;   ///< same length, SI unit of the property
};

/// One closed piece of a law, valid on [from, to] in kelvin.
struct Piece {
  enum class Form {
    polynomial,  ///< c0 + c1 t + c2 t^2 ..., t in degC
    pole,        ///< c0 + c1/(c2 - t), t in degC; c1 may be negative (EN 1993-1-2 heat capacity)
    shomate      ///< c0 + c1 x + c2 x^2 + c3 x^3 + c4/x^2, x = T/1000 K, already scaled to J/(kg K)
  };
  double from, to;  ///< [K]
  Form form;
  std::vector<double> c;
};

/// A property as a function of temperature, in the SI unit of the property.
struct Law {
  std::variant<double, Table, std::vector<Piece>> shape = 0.0;
  double lowest = 0.0,
         highest = 0.0;      ///< range that the data cover [K]; equal for a constant, which holds
                             ///< everywhere
  double uncertainty = 0.0;  ///< relative half-width of the band, 0 = not stated
  std::vector<Source> sources;

  /// Value at T; outside the range the value at the nearest end (check `covers` and warn).
  [[nodiscard]] double operator()(Temperature t) const;
  [[nodiscard]] bool covers(Temperature t) const;
  /// Integral of the law from `a` to `b`, closed form in every piece: for a heat capacity the
  /// enthalpy.
  [[nodiscard]] double integral(Temperature a, Temperature b) const;
};

}  // namespace cw
