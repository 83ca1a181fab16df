#include "cases/wording.hpp"

#include <array>
#include <cmath>

#include <fmt/format.h>

#include "materials/quantity.hpp"

namespace cw::cases {

std::string in_words(double si, Dimension dimension) {
  if (dimension == Dimension::number) return fmt::format("{:.4g}", si);
  if (dimension == Dimension::temperature) {
    return fmt::format("{:.4g} degC", Temperature{si}.in_celsius());
  }
  if (dimension == Dimension::flow) return fmt::format("{:.4g} L/min", si * 60e3);
  if (dimension == Dimension::area) return fmt::format("{:.4g} mm2", si * 1e6);
  struct Prefix {
    double factor;
    const char* text;
  };
  if (dimension == Dimension::length && si == 0.0) return "0 mm";
  static constexpr std::array prefixes = {Prefix{1e9, "G"},  Prefix{1e6, "M"},  Prefix{1e3, "k"},
                                          Prefix{1.0, ""},   Prefix{1e-3, "m"}, Prefix{1e-6, "u"},
                                          Prefix{1e-9, "n"}, Prefix{1e-12, "p"}};
  // Metres never become kilometres: such a large length is a mistake, and metres show it best.
  const double largest = dimension == Dimension::length || dimension == Dimension::time ? 1.0 : 1e9;
  for (const Prefix& prefix : prefixes) {
    if (prefix.factor <= largest && std::abs(si) >= prefix.factor * 0.99995) {
      return fmt::format("{:.4g} {}{}", si / prefix.factor, prefix.text, si_unit(dimension));
    }
  }
  return fmt::format("{:.4g} {}", si, si_unit(dimension));
}

}  // namespace cw::cases
