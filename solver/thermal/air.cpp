#include "solver/thermal/air.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace cw {
namespace {

struct Row {
  double celsius, conductivity, viscosity, prandtl;
};

// Conductivity and viscosity 0-140 degC: heat-transfer textbook Table A-15, air at 1 atm (secondary
// copy); from 200 degC, and every Prandtl number: the same table, from memory.
constexpr std::array<Row, 16> table{{{0, .02364, 1.338e-5, .7362},
                                     {20, .02514, 1.516e-5, .7309},
                                     {25, .02551, 1.562e-5, .7296},
                                     {40, .02662, 1.702e-5, .7255},
                                     {60, .02808, 1.896e-5, .7202},
                                     {80, .02953, 2.097e-5, .7154},
                                     {100, .03095, 2.306e-5, .7111},
                                     {120, .03235, 2.522e-5, .7073},
                                     {140, .03374, 2.745e-5, .7041},
                                     {200, .03779, 3.455e-5, .6974},
                                     {300, .04418, 4.765e-5, .6935},
                                     {400, .05015, 6.219e-5, .6948},
                                     {500, .05572, 7.806e-5, .6986},
                                     {600, .06093, 9.515e-5, .7037},
                                     {800, .07037, 1.326e-4, .7149},
                                     {1000, .07868, 1.741e-4, .7260}}};

}  // namespace

AirProperties air_at(Temperature film) {
  const auto* const above =
      std::upper_bound(table.begin() + 1, table.end() - 1, film.in_celsius(),
                       [](double t, const Row& row) { return t < row.celsius; });
  const Row &b = *above, &a = *std::prev(above);
  const double from = a.celsius + zero_celsius, to = b.celsius + zero_celsius;
  const double share = std::log(film.kelvin / from) / std::log(to / from);
  const auto between = [share](double x, double y) { return x * std::pow(y / x, share); };
  return {between(a.conductivity, b.conductivity), between(a.viscosity, b.viscosity),
          between(a.prandtl, b.prandtl), 1 / film.kelvin};
}

}  // namespace cw
