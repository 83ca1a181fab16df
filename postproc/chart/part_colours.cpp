#include "postproc/chart/part_colours.hpp"

#include <algorithm>

#include "postproc/picture/colour_map.hpp"

namespace cw {

std::vector<Colour> part_colours(const std::vector<bool>& heated) {
  std::vector<Colour> colours;
  double dark = 0.95, light = 0.42;
  for (const bool hot : heated) {
    double& share = hot ? dark : light;
    colours.push_back(field_colour(share));
    share = std::max(share - 0.1, hot ? 0.6 : 0.1);
  }
  return colours;
}

}  // namespace cw
