#pragma once

#include <optional>
#include <string>

#include "materials/quantity.hpp"

namespace cw {

// What the case asked for, as far as a reader of the result needs it: what to buy, how to wind it,
// what to set. SI units.

/// The metal of a turn.
struct ConductorDesign {
  std::string kind;                  ///< "tube", "wire", "bar", "strands"
  std::string material;              ///< name of the material
  double radial = 0.0, axial = 0.0;  ///< outside [m]
  std::optional<double> wall;        ///< of a tube [m]
  std::optional<int> strands;        ///< of a bundle
};

/// The work coil as it is to be wound.
struct CoilDesign {
  std::string shape;  ///< "helix", "flat", "cone", "rings"
  double turns = 0.0;
  double bore = 0.0;               ///< clear inside diameter [m]
  std::optional<double> bore_end;  ///< of a cone at its other end [m]
  double pitch = 0.0;              ///< from turn to turn [m]; 0 for explicit rings
  double conductor_length = 0.0;   ///< along the winding, leads not counted [m]
  ConductorDesign conductor;
  std::optional<double> lead_length;   ///< one way [m]
  std::optional<double> lead_spacing;  ///< between centres [m]
  std::optional<double> coolant_flow;  ///< [m3/s]
  std::optional<Temperature> coolant_inlet;
};

/// What is to be heated.
struct WorkpieceDesign {
  std::string material;            ///< name of the material
  double diameter = 0.0;           ///< largest [m]
  double bottom = 0.0, top = 0.0;  ///< ends on the axis; the coil's middle is 0 [m]
  std::optional<Temperature> target;
  std::string target_at;  ///< "surface", "centre", "mean", "coldest"; empty without target
};

/// The capacitor bank.
struct BankDesign {
  double capacitance = 0.0;                        ///< of the whole bank [F]
  std::optional<int> cans;                         ///< equal, in parallel
  std::optional<double> can_current, can_voltage;  ///< ratings of one can, rms [A], [V]
};

/// The direct-current side.
struct SupplyDesign {
  double voltage = 0.0;                  ///< [V]
  std::optional<double> limit;           ///< [A]
  std::string limit_kind;                ///< "fold", "trip", "hiccup"
  std::optional<double> fuse;            ///< [A]
  std::optional<double> switch_voltage;  ///< rating of a transistor, peak [V]
  int chokes = 0;
  double choke_inductance = 0.0;  ///< each [H]
};

/// The design a result belongs to.
struct Design {
  CoilDesign coil;
  std::optional<WorkpieceDesign> workpiece;
  std::optional<BankDesign> bank;
  std::optional<SupplyDesign> supply;
};

}  // namespace cw
