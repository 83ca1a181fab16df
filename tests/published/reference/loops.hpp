#pragma once

#include "tests/published/reference/quadrature.hpp"

namespace cw::reference {

/// Flux through one coaxial loop per ampere in the other [H]; radii and axial distance in m.
/// Maxwell, Treatise, art. 701, in Carlson's symmetric integrals (dlmf.nist.gov/19.34), so that
/// nearly touching loops lose no digits. Not for r1 = r2 with z = 0 (infinite).
double mutual_inductance(double r1, double r2, double z);

/// How the current spreads over a ring's section.
enum class Spread {
  uniform,         ///< strands: the same density everywhere
  inverse_radius,  ///< solid ring at DC driven by one voltage: density ~ 1/r
};

/// A torus of circular section: mean radius and section radius [m].
struct Torus {
  double mean_radius;
  double section_radius;
};

/// DC self inductance [H] of a torus: Neumann's formula averaged twice over the section,
/// weighted by the current density.
double torus_inductance(const Torus& torus, Spread spread);

/// Rayleigh and Niven's series for the uniform case [H] (in Rosa & Grover, Bull. Bur. Stand. 8,
/// 1911; from memory): 3e-7 off at section/mean radius 0.12, 7e-6 at 0.25.
double torus_inductance_series(const Torus& torus);

/// Mutual inductance [H] of two equal tori a distance z apart, uniform current, both sections
/// averaged. z > 2 section radii.
double torus_mutual(const Torus& torus, double z);

/// A row of equal coaxial tori in series, `pitch` apart [m].
struct RingRow {
  Torus torus;
  double pitch;
  int count;
};

/// DC inductance [H] of the row in series, uniform current.
double row_inductance(const RingRow& row);

/// The same with filament mutual inductances beside the torus self inductance.
double row_inductance_filament_mutuals(const RingRow& row);

/// DC resistance [ohm] of a torus of resistivity rho [ohm m], uniform current.
double torus_resistance_uniform(const Torus& torus, double rho);

/// DC resistance [ohm] of a solid torus driven by one voltage, exact: rho/(R - sqrt(R^2 - a^2)).
double torus_resistance_solid(const Torus& torus, double rho);

/// The same for a tube of inner section radius `bore` [m], exact.
double torus_resistance_tube(const Torus& torus, double bore, double rho);

/// Flux density of one loop [T] per ampere (so rms or peak as the ampere is).
struct LoopField {
  double radial;
  double axial;
};

/// Field of a loop of radius `loop` at (r, z - z_loop), elliptic integrals (Smythe, Static and
/// Dynamic Electricity, 7.10; from memory). r = 0 is taken as the axis formula.
LoopField loop_field(double loop, double r, double z);

/// Nagaoka's coefficient of a current sheet, exact (Nagaoka 1909; Rosa & Grover 1911), as function
/// of diameter/length. L = K mu0 pi (D/2)^2 N^2/l.
double nagaoka(double diameter_over_length);

/// Lundin's fit of the same (R. Lundin, Proc. IEEE 73 (1985) 1428, from memory), 2.5e-6.
double lundin(double diameter_over_length);

/// A winding of rectangular section with uniform current: radii, axial length [m], turns.
struct ThickCoil {
  double inner;
  double outer;
  double length;
  double turns;
};

/// Integral of r J1(alpha r) dr over the winding's radii [m^2]: what Dodd and Deeds write with
/// Bessel and Struve functions, by quadrature.
double winding_kernel(const ThickCoil& coil, double alpha);

/// Inductance in air [H] (Dodd & Deeds, J. Appl. Phys. 39, 1968, 2829).
double thick_coil_inductance(const ThickCoil& coil);

}  // namespace cw::reference
