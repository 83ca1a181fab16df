#include "postproc/picture/colour_map.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace cw {

namespace {

struct Linear {
  double red, green, blue;
};

double to_screen(double linear) {
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1.0 / 2.4) - 0.055;
}

double from_screen(std::uint8_t value) {
  const double v = value / 255.0;
  return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}

// OKLab to linear sRGB and back. Source: B. Ottosson, "A perceptual color space for image
// processing", 2020 (matrices from memory; the round trip and the lightness of white are tested).
// Screen curve: IEC 61966-2-1.
Linear from_oklab(double light, double a, double b) {
  const double l = std::pow(light + 0.3963377774 * a + 0.2158037573 * b, 3);
  const double m = std::pow(light - 0.1055613458 * a - 0.0638541728 * b, 3);
  const double s = std::pow(light - 0.0894841775 * a - 1.2914855480 * b, 3);
  return {4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
          -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
          -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s};
}

bool shown_by_screen(const Linear& c) {
  const auto inside = [](double v) { return v >= -1e-4 && v <= 1.0 + 1e-4; };
  return inside(c.red) && inside(c.green) && inside(c.blue);
}

std::uint8_t byte(double linear) {
  return static_cast<std::uint8_t>(std::lround(255.0 * to_screen(std::clamp(linear, 0.0, 1.0))));
}

Colour found_field_colour(double t) {
  constexpr double degree = std::numbers::pi / 180.0;
  const double light = 0.99 - 0.74 * t;
  const double hue = (110.0 + 180.0 * t) * degree;
  double chroma = 0.1 * std::pow(std::sin(std::numbers::pi * (0.01 + 0.89 * t)), 0.8);
  Linear c = from_oklab(light, chroma * std::cos(hue), chroma * std::sin(hue));
  while (!shown_by_screen(c) && chroma > 1e-3) {  // paler, with the same lightness
    chroma *= 0.97;
    c = from_oklab(light, chroma * std::cos(hue), chroma * std::sin(hue));
  }
  return {byte(c.red), byte(c.green), byte(c.blue)};
}

}  // namespace

Colour field_colour(double share) {
  constexpr std::size_t last = 4095;  // more steps than a screen can show
  static const std::vector<Colour> table = [] {
    std::vector<Colour> all;
    for (std::size_t k = 0; k <= last; ++k)
      all.push_back(found_field_colour(static_cast<double>(k) / last));
    return all;
  }();
  return table[static_cast<std::size_t>(std::lround(last * std::clamp(share, 0.0, 1.0)))];
}

Colour heat_colour(double share) {
  // Every tenth of the map as published (from memory), linear between them.
  constexpr std::array<Colour, 11> tenths{{{0x00, 0x00, 0x04},
                                           {0x16, 0x0b, 0x39},
                                           {0x42, 0x0a, 0x68},
                                           {0x6a, 0x17, 0x6e},
                                           {0x93, 0x26, 0x67},
                                           {0xbc, 0x37, 0x54},
                                           {0xdd, 0x51, 0x3a},
                                           {0xf3, 0x78, 0x19},
                                           {0xfc, 0xa5, 0x0a},
                                           {0xf6, 0xd7, 0x46},
                                           {0xfc, 0xff, 0xa4}}};
  const double at = 1.0 + 9.0 * std::clamp(share, 0.0, 1.0);
  const std::size_t k = std::min<std::size_t>(static_cast<std::size_t>(at), 9);
  const double part = at - static_cast<double>(k);
  const auto between = [&](std::uint8_t low, std::uint8_t high) {
    return static_cast<std::uint8_t>(std::lround(low + part * (high - low)));
  };
  return {between(tenths[k].red, tenths[k + 1].red), between(tenths[k].green, tenths[k + 1].green),
          between(tenths[k].blue, tenths[k + 1].blue)};
}

double lightness(const Colour& colour) {
  const double r = from_screen(colour.red), g = from_screen(colour.green),
               b = from_screen(colour.blue);
  const double l = std::cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
  const double m = std::cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
  const double s = std::cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
  return 0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * s;
}

std::string colour_code(const Colour& colour) {
  return fmt::format("#{:02x}{:02x}{:02x}", colour.red, colour.green, colour.blue);
}

}  // namespace cw
