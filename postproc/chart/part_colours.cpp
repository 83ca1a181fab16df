#include "postproc/chart/part_colours.hpp"

#include <array>

namespace cw {

std::vector<Colour> part_colours(const std::vector<bool>& heated) {
  // The dark ones begin with the end colour of our map of fields. The light ones are the scheme
  // "light" of P. Tol, "Colour schemes", technical note SRON/EPS/TN/09-002 (2021, from memory):
  // distinct for colour-blind eyes.
  constexpr std::array<Colour, 5> dark{
      {{33, 37, 76}, {0, 90, 107}, {126, 33, 79}, {84, 76, 0}, {86, 52, 140}}};
  constexpr std::array<Colour, 8> light{{{119, 170, 221},
                                         {238, 221, 136},
                                         {238, 136, 102},
                                         {68, 187, 153},
                                         {255, 170, 187},
                                         {187, 204, 51},
                                         {153, 221, 255},
                                         {221, 221, 221}}};
  std::vector<Colour> colours;
  colours.reserve(heated.size());
  std::size_t hot_parts = 0, others = 0;
  for (const bool hot : heated)
    colours.push_back(hot ? dark[hot_parts++ % dark.size()] : light[others++ % light.size()]);
  return colours;
}

}  // namespace cw
