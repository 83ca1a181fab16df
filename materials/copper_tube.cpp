#include "materials/copper_tube.hpp"

#include <array>
#include <cmath>
#include <string_view>

namespace cw {

namespace {

constexpr double one_inch = 25.4e-3;
constexpr const char *no_standard = "common practice", *metric_standard = "EN 1057 and EN 12735-1",
                     *inch_standard = "ASTM B280";

constexpr std::array copper_tubes = {
    CopperTube{4e-3, 1e-3, "4 mm", no_standard},
    CopperTube{5e-3, 1e-3, "5 mm", no_standard},
    CopperTube{6e-3, 1e-3, "6 mm", metric_standard},
    CopperTube{8e-3, 1e-3, "8 mm", metric_standard},
    CopperTube{10e-3, 1e-3, "10 mm", metric_standard},
    CopperTube{12e-3, 1e-3, "12 mm", metric_standard},
    CopperTube{15e-3, 1e-3, "15 mm", metric_standard},
    CopperTube{16e-3, 1e-3, "16 mm", metric_standard},
    CopperTube{18e-3, 1e-3, "18 mm", metric_standard},
    CopperTube{22e-3, 1e-3, "22 mm", metric_standard},
    CopperTube{0.125 * one_inch, 0.030 * one_inch, "1/8 inch", inch_standard},
    CopperTube{0.1875 * one_inch, 0.030 * one_inch, "3/16 inch", inch_standard},
    CopperTube{0.250 * one_inch, 0.030 * one_inch, "1/4 inch", inch_standard},
    CopperTube{0.3125 * one_inch, 0.032 * one_inch, "5/16 inch", inch_standard},
    CopperTube{0.375 * one_inch, 0.032 * one_inch, "3/8 inch", inch_standard},
    CopperTube{0.500 * one_inch, 0.032 * one_inch, "1/2 inch", inch_standard},
    CopperTube{0.625 * one_inch, 0.035 * one_inch, "5/8 inch", inch_standard},
    CopperTube{0.750 * one_inch, 0.035 * one_inch, "3/4 inch", inch_standard},
    CopperTube{0.875 * one_inch, 0.045 * one_inch, "7/8 inch", inch_standard}};

/// The sizes in one unit, without it: "6, 8, 10".
std::string sizes_in(std::string_view unit) {
  std::string all;
  for (const CopperTube& tube : copper_tubes) {
    const std::string_view size = tube.size;
    if (!size.ends_with(unit)) continue;
    all += (all.empty() ? "" : ", ") + std::string(size.substr(0, size.size() - unit.size()));
  }
  return all;
}

}  // namespace

std::optional<CopperTube> usual_copper_tube(double diameter) {
  constexpr double apart = 0.03e-3 * (1.0 + 1e-9);
  for (const CopperTube& tube : copper_tubes)
    if (std::abs(tube.diameter - diameter) <= apart) return tube;
  return std::nullopt;
}

std::string usual_copper_tubes() {
  return sizes_in(" mm") + " mm and " + sizes_in(" inch") + " inch";
}

}  // namespace cw
