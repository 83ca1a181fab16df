#pragma once

#include <limits>

#include "tests/published/reference/loops.hpp"
#include "tests/published/reference/skin.hpp"

namespace cw::reference {

/// A flat linear plate under the coil; thickness [m], infinite for a half-space.
struct Plate {
  Metal metal;
  double thickness = std::numeric_limits<double>::infinity();
};

/// Change of impedance [ohm] of a winding whose lower face is `lift` [m] above the plate (Dodd &
/// Deeds, J. Appl. Phys. 39, 1968, 2829). An impedance: the same for rms and peak.
Complex coil_over_plate(const ThickCoil& coil, double lift, const Plate& plate, double frequency);

/// The same for one filament loop of radius `loop` at height `lift` [m] (also Zaman, Long &
/// Gardner, J. Nondestr. Eval. 1, 1980, 183).
Complex loop_over_plate(double loop, double lift, const Plate& plate, double frequency);

/// An infinite rod on the axis, radius [m].
struct Rod {
  double radius;
  Metal metal;
};

/// C(alpha): amplitude of the rod's K1 answer to an I1(alpha r) cos(alpha z) source (Dodd & Deeds
/// 1968, encircling coil). rho = 0 stands for the perfect conductor.
Complex rod_answer(const Rod& rod, double frequency, double alpha);

/// Change of impedance [ohm] of filament rings (torus.mean_radius, pitch, count; the section is
/// not used) in series round the rod.
Complex filaments_round_rod(const RingRow& rings, const Rod& rod, double frequency);

/// Impedance [ohm] a shorted loop reflects into another: w^2 M^2/(R2 + j w L2).
Complex reflected_by_short(double mutual, double resistance, double inductance, double frequency);

/// Non-magnetic conducting shell in a uniform field: radii [m], conductivity [S/m].
struct Shell {
  double inner;
  double outer;
  double conductivity;
};

/// What the shell does to a field B0 (all complex figures over B0).
struct ShellResponse {
  Complex inside;  ///< B in the hollow / B0
  Complex dipole;  ///< D/outer^3 with B_r = (B0 + D/r^3) cos(theta) outside
  double power;    ///< [W] at PEAK B0 as given
};

/// Exact answer from the modified spherical Bessel functions of order 1 (the problem of C. R.
/// I. Emson, Results for a hollow sphere in uniform field, COMPEL 7 (1988) 89, from memory). B0
/// peak [T].
ShellResponse shell_in_uniform_field(const Shell& shell, double frequency, double peak_b0);

/// The coil and billet of the short-coil rule: diameters, coil length [m], turns.
struct ShortCoil {
  double coil_diameter;
  double work_diameter;
  double length;
  double turns;
};

/// Resistance [ohm] a billet reflects into a short coil: J. T. Vaughan & J. W. Williamson, Trans.
/// AIEE 64 (1945) 587 (from memory), with the skin depth in q of M. W. Kennedy, S. Akhtar, J. A.
/// Bakken & R. E. Aune, Empirical verification of a short-coil correction factor, IEEE Trans. Ind.
/// Electron. 2014 (abstract read, form from memory): 2 pi a (rho/d) F N^2 k*^2/l,
/// k* = K (1 - q) + q, q = ((Dw - d)/Dc)^2, K Nagaoka's coefficient. Authors claim 4 % in power.
double short_coil_resistance(const ShortCoil& coil, const Metal& work, double frequency);

}  // namespace cw::reference
