#pragma once

#include <complex>

#include "solver/circuit/choke.hpp"
#include "solver/circuit/drive_point.hpp"
#include "solver/circuit/supply.hpp"

namespace cw {

// Supply side of a current-fed, self-oscillating push-pull that commutates when the tank voltage is
// zero.
//
// The mean voltage across each choke is zero. The tank voltage is a sine, so |v| has the mean 2
// V_peak/pi. Two chokes: a drain is at the drop of the conducting switch for half a period and |v|
// above it in the other half, so V - (I/2) R_choke = V_peak/pi + I R_ds. One choke: the centre tap
// is |v|/2 above the drop, so V - I R_choke = V_peak/pi + I R_ds. Hence
//   V_peak = pi V_eff,  V_eff = V - V_drop - I (R_ds + R_choke/2)  or  (R_ds + R_choke).
// The tank takes a square wave +-I/2 with a fundamental of peak 2 I/pi: its power is V_eff I, and
// with P = G V_peak^2/2 therefore I = (pi^2/2) G V_eff. (Derived; the factor pi of the current-fed
// push-pull is known in the trade, no published source read.) Corrections are of order 1/Q^2: see
// harmonic_error().

/// R_ds + R_choke/2 for two chokes, R_ds + R_choke for one, without supply and cable [ohm].
double path_resistance(const PushPullDrive& drive);

/// Closed form at a set voltage: I = (pi^2/2) G (V - V_drop)/(1 + (pi^2/2) G R), with R the whole
/// path including battery and cable. `conductance` is Re Y of everything that the tank feeds [S].
DrivePoint drive_at_voltage(const PushPullDrive& drive, double conductance);

/// The supply folded back to `current` [A]: V_eff = 2 I/(pi^2 G), and the resulting supply voltage.
DrivePoint drive_at_current(const PushPullDrive& drive, double conductance, double current);

/// Each switch carries all of I for half the time: I^2 R_ds/2. Chokes: I^2 R/2 for two, I^2 R for
/// one.
DriveLosses drive_losses(const PushPullDrive& drive, double current);

/// Admittance of the chokes across the bank [S].
std::complex<double> drive_admittance(const PushPullDrive& drive, Frequency f);

/// Peak voltage across a switch while off [V]: peak of the tank plus the drop of the other switch.
double switch_peak(const PushPullDrive& drive, const DrivePoint& point);

ChokeLoad choke_load(const PushPullDrive& drive, const DrivePoint& point, Frequency f);

/// Both switches stuck on, until the chokes saturate and the fuse reaches its rating, as far as
/// these are given. The chokes then connect supply and earth: two are in parallel (L/2), one is
/// alone (the coil's inductance is left out). Resistances of battery, cable, chokes and switches
/// limit the final current. A saturating choke is faster still.
LatchUp latch_up(const PushPullDrive& drive);

/// Time [s] for the latched supply current to reach `current`: -(L/R) ln(1 - I R/V), L I/V without
/// resistance, infinite if never.
double latch_time(const PushPullDrive& drive, double current);

/// Valid for a loaded Q of at least 3 and chokes of at least ten times `inductance`, that of coil
/// and joints [H]. Fitted to time stepping of the circuit (tests): the frequency falls by 1/(8
/// Q^2); the current changes by 4 % at Q = 3, 0.7 % at 7, 0.03 % at 35.
HarmonicError harmonic_error(const PushPullDrive& drive, double loaded_q, double inductance);

/// Throws std::invalid_argument for an impossible drive, with value, limit and remedy.
void require_usable(const PushPullDrive& drive);

}  // namespace cw
