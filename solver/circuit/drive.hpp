#pragma once

#include "solver/circuit/supply.hpp"
#include "solver/circuit/tank.hpp"

namespace cw {

// Supply side of a current-fed, self-oscillating push-pull that commutates where the tank voltage
// is zero.
//
// Each choke holds no mean voltage. With the tank a half sine of either sign, |v| has the mean
// 2 V_peak/pi. Two chokes: a drain is at the conducting switch's drop for half a period and
// |v| above it in the other half, so V - (I/2) R_choke = V_peak/pi + I R_ds. One choke: the centre
// tap is at |v|/2 above the drop, so V - I R_choke = V_peak/pi + I R_ds. Hence
//   V_peak = pi V_eff,  V_eff = V - V_drop - I (R_ds + R_choke/2)  or  (R_ds + R_choke).
// The tank takes a square wave +-I/2 of fundamental peak 2 I/pi: its power is V_eff I, with
// P = G V_peak^2/2 therefore I = (pi^2/2) G V_eff. (Derived; the current-fed push-pull's pi is
// known in the trade, no published source read.) Corrections are of order 1/Q^2: see
// harmonic_error().

/// Direct-current side of an operating point.
struct DrivePoint {
  double source_V = 0.0;  ///< set voltage or battery with nothing drawn; folded: what is left
  double supply_current_A = 0.0;
  double effective_V = 0.0;  ///< what remains for the tank, V_peak/pi
};

/// Losses on the way to the tank [W]; each I^2 times its resistance, switches I V_drop beside.
struct DriveLosses {
  double switches_W = 0.0;  ///< both; each carries all of I for half the time: I^2 R_ds/2 each
  double chokes_W = 0.0;    ///< from the direct current only: I^2 R/2 for two, I^2 R for one
  double cable_W = 0.0;
  double battery_W = 0.0;
};

/// R_ds + R_choke/2 for two chokes, R_ds + R_choke for one, without supply and cable [ohm].
double path_resistance(const PushPullDrive& drive);

/// Closed form at a set voltage: I = (pi^2/2) G (V - V_drop)/(1 + (pi^2/2) G R), R the whole path
/// with battery and cable. `conductance` is Re Y of all the tank feeds [S].
DrivePoint drive_at_voltage(const PushPullDrive& drive, double conductance);

/// The supply folded back to `current` [A]: V_eff = 2 I/(pi^2 G), and the voltage that leaves it.
DrivePoint drive_at_current(const PushPullDrive& drive, double conductance, double current);

DriveLosses drive_losses(const PushPullDrive& drive, double current);

/// One feed choke at work.
struct ChokeLoad {
  double mean_A = 0.0;  ///< I/2 for two chokes, I for one
  double ripple_peak_to_peak_A = 0.0;
  double peak_A = 0.0;    ///< mean + ripple/2: the ripple is even about its mean
  double energy_J = 0.0;  ///< L peak^2/2
};

/// Ripple [A] peak to peak over V_eff/(f L). Two chokes, V_L = V - v with v zero for half a period
/// and pi V sin in the other: (pi + 2 a - 2 pi (1 - cos a))/(2 pi), sin a = 1/pi: 0.5511. One,
/// V_L = V - (pi/2) V |sin|: (2 b - pi (1 - cos b))/(2 pi), sin b = 2/pi: 0.1053. (Derived.)
double ripple_factor(int chokes);

ChokeLoad choke_load(const Choke& choke, const DrivePoint& point, Frequency f);

/// Throws std::invalid_argument where the drive cannot be, with value, limit and remedy.
void require_usable(const PushPullDrive& drive);

}  // namespace cw
