// Inductance of a ring of round wire, against L = mu0 R (ln(8R/a) - 7/4) for uniform current:
// E. B. Rosa and F. W. Grover, Formulas and tables for the calculation of mutual and
// self-inductance, Bulletin of the Bureau of Standards 8 (1911), 1 (from memory).
#include <cmath>
#include <cstdio>

#include "mesh/generate.hpp"
#include "solver/field/turns.hpp"

int main() {
  const double ring = 50e-3, wire = 2e-3;  // radii [m]
  const cw::Frequency frequency{10.0};     // so low that the current is uniform
  const double copper = 5.8e7;             // [S/m], annealed standard of 1913

  const cw::Mesh mesh =
      cw::generate_mesh({.regions = {{.name = "ring", .shape = cw::Disc{{ring, 0.0}, wire}}}});
  cw::EddySystem system(mesh, {cw::Medium{}, cw::Medium{copper}});
  const cw::TurnSet turns{.region = {mesh.find_region("ring")}, .weight = {1.0}};
  const auto coil = cw::connect_in_series(system, turns, cw::solve_turns(system, turns, frequency));

  const double found = coil.impedance.imag() / frequency.omega();
  const double closed = cw::mu0 * ring * (std::log(8.0 * ring / wire) - 1.75);
  std::printf("inductance %.4g nH, closed form %.4g nH\n", 1e9 * found, 1e9 * closed);
  return std::abs(found / closed - 1.0) < 0.01 ? 0 : 1;
}
