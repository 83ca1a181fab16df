#pragma once

namespace cw {

/// Direct-current side of an operating point, and the tank voltage that follows from it.
struct DrivePoint {
  double source_V = 0.0;  ///< set voltage, or open-circuit voltage of the battery; when folded: the
                          ///< remaining voltage
  double supply_current_A = 0.0;
  double effective_V = 0.0;  ///< what remains of the supply for the tank
  double tank_peak_V = 0.0;
};

/// Losses between supply and tank [W]: I^2 times each resistance, and I V_drop for the switches.
struct DriveLosses {
  double switches_W = 0.0;  ///< all of them
  double chokes_W = 0.0;    ///< all of them, from the direct current only
  double cable_W = 0.0;
  double battery_W = 0.0;
};

/// All switches stuck on.
struct LatchUp {
  double rise_A_per_us = 0.0;         ///< V/L_path at the start
  double final_current_A = 0.0;       ///< infinite without any resistance
  double time_to_saturation_s = 0.0;  ///< of the chokes; infinite: none given or never reached
  double time_to_fuse_s = 0.0;        ///< infinite: none given or never reached
};

/// Upper bounds of what the harmonic model leaves out, relative: the frequency is at most this much
/// too high, peak voltage and supply current at most this much too low.
struct HarmonicError {
  double frequency = 0.0, voltage_peak = 0.0, supply_current = 0.0;
};

}  // namespace cw
