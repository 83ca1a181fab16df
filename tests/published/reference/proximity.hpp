#pragma once

#include <array>

#include "tests/published/reference/skin.hpp"

namespace cw::reference {

/// Thin-skin resistance of long parallel go-and-return round wires over that of one alone:
/// 1/sqrt(1 - (d/s)^2) (J. R. Carson, Phil. Mag. 41 (1921) 607, from memory). The argument is s/d >
/// 1, centre to centre.
inline double go_return_factor(double spacing_over_diameter) {
  return 1.0 / std::sqrt(1.0 - 1.0 / (spacing_over_diameter * spacing_over_diameter));
}

/// External inductance of that pair [H/m], (mu0/pi) acosh(s/d), from the capacitance
/// of two round wires (derivation, no published source read).
inline double go_return_inductance(double spacing_over_diameter) {
  return kMu0 / kPi * std::acosh(spacing_over_diameter);
}

/// A row of coaxial rings in series and its thin-skin figures.
struct RowFigure {
  int count;
  double mean_radius_mm;
  double section_radius_mm;
  double pitch_mm;
  double inductance_nH;
  double loss_factor;  ///< R_ac/(N Rs R/a)
};

/// Ring coils whose current is a surface sheet. Evaluated twice by programs that share nothing, the
/// second being ring_bem.cpp here: they agree to every digit printed. One ring: the ideally
/// conducting torus of H. Essen, J. Sten & A. B. Nordmark, PIER B 46 (2013) 357 (abstract read).
/// The many-ring figures have no published counterpart.
inline constexpr std::array<RowFigure, 13> kThinSkinRows{{
    {1, 25, 3, 9, 68.024778, 1.0460456},
    {1, 25, 1, 9, 103.396714, 1.0107667},
    {1, 50, 3, 9, 180.946939, 1.0190124},
    {1, 10, 1, 9, 29.5958474, 1.0369769},
    {1, 4, 1, 9, 6.93827674, 1.0953229},
    {1, 2, 1, 9, 1.53718943, 1.0998788},
    {2, 25, 3, 9, 200.85184, 1.2788050},
    {3, 25, 3, 9, 367.25367, 1.4488491},
    {5, 25, 3, 9, 751.02248, 1.6586405},
    {8, 25, 3, 9, 1381.6874, 1.8126423},
    {5, 25, 3, 7.5, 816.73538, 1.9112013},
    {5, 25, 3, 12, 650.38873, 1.4249458},
    {10, 25, 3, 8, 1960.9089, 2.0756360},
}};

/// The five-ring coil (25, 3, pitch 9 mm, copper 1.724e-8 ohm m) round an infinite linear rod of
/// radius 10 mm; frequency in kHz.
struct LoadedFigure {
  const char* metal;
  Metal rod;
  double kilohertz;
  double external_inductance_nH;
  double coil_mohm;
  double work_mohm;
  double efficiency;
};

/// Thin-skin coil current and the rod's exact answer (Dodd & Deeds 1968). Evaluated twice by
/// programs that share nothing, the second being ring_bem.cpp here, to every digit printed; not
/// published. At finite skin depth d add R_coil/w to the inductance and (1 + d/2a) to R_coil.
inline constexpr std::array<LoadedFigure, 18> kLoadedRows{{
    {"copper", {1.724e-8}, 50, 648.0891, 4.05045, 1.038069, .20400},
    {"aluminium", {2.82e-8}, 50, 649.0284, 4.05022, 1.320600, .24588},
    {"brass", {6.2e-8}, 50, 651.1075, 4.04973, 1.935010, .32332},
    {"stainless", {72e-8}, 50, 666.4959, 4.04647, 6.011366, .59768},
    {"steel, mu_r 100", {16e-8, 100}, 50, 746.1242, 4.04017, 28.77248, .87687},
    {"steel, mu_r 40", {16e-8, 40}, 50, 709.2439, 4.04141, 18.84919, .82345},
    {"steel past Curie", {110e-8}, 50, 671.6422, 4.04552, 7.185497, .63979},
    {"steel, 1200 C", {122e-8}, 50, 673.0660, 4.04526, 7.495953, .64949},
    {"graphite", {1000e-8}, 50, 729.5127, 4.03574, 10.98808, .73138},
    {"copper", {1.724e-8}, 100, 647.1029, 5.72854, 1.476230, .20490},
    {"aluminium", {2.82e-8}, 100, 647.7671, 5.72831, 1.880990, .24720},
    {"brass", {6.2e-8}, 100, 649.2371, 5.72780, 2.765938, .32564},
    {"stainless", {72e-8}, 100, 660.1119, 5.72437, 8.842744, .60703},
    {"steel, mu_r 100", {16e-8, 100}, 100, 716.7950, 5.71480, 41.98290, .88019},
    {"steel, mu_r 40", {16e-8, 40}, 100, 690.4618, 5.71780, 27.25235, .82658},
    {"steel past Curie", {110e-8}, 100, 663.7477, 5.72333, 10.68950, .65129},
    {"steel, 1200 C", {122e-8}, 100, 664.7601, 5.72305, 11.18713, .66156},
    {"graphite", {1000e-8}, 100, 705.1583, 5.71350, 24.52275, .81104},
}};

/// Loss factor of close-wound many-turn coils: wire diameter over pitch, coil length over diameter.
struct MedhurstFigure {
  double diameter_over_pitch;
  double length_over_diameter;
  double measured;
  double ideal_40_turns;
};

/// `measured`: R. G. Medhurst, Wireless Engineer 24 (1947) 35 and 80, Table VIII, read in a public
/// copy of the table (repository roger-/PyInductor, inductor/data.py; two other copies have the
/// same figures); from memory on some 30 to 50 turns at 1 MHz. `ideal_40_turns`: 40 rings of length
/// 40 pitches in the thin-skin limit, evaluated twice as above (to every digit printed). The two
/// are within 5 % up to d/s = 0.7; above, the measured ones lie far below the ideal. Short coils of
/// thick tube lie below both.
inline constexpr std::array<MedhurstFigure, 16> kMedhurst{{
    {.9, 1, 4.10, 5.594},
    {.8, 1, 3.17, 3.338},
    {.7, 1, 2.47, 2.476},
    {.6, 1, 1.94, 1.980},
    {.5, 1, 1.67, 1.644},
    {.4, 1, 1.45, 1.402},
    {.3, 1, 1.24, 1.225},
    {.2, 1, 1.10, 1.101},
    {.9, 2, 3.36, 3.991},
    {.8, 2, 2.74, 2.839},
    {.7, 2, 2.32, 2.317},
    {.6, 2, 1.98, 1.962},
    {.5, 2, 1.74, 1.684},
    {.4, 2, 1.50, 1.455},
    {.3, 2, 1.28, 1.268},
    {.2, 2, 1.13, 1.125},
}};

}  // namespace cw::reference
