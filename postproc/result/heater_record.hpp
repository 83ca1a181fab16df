#pragma once

#include <optional>
#include <string>

#include "solver/heater/heater.hpp"

namespace cw {

// A heater as result.json holds it: what a reader of the page needs, to buy, to wind and to set.
// SI units. The program itself knows heaters as cw::Heater; this is the form of the file alone.

/// The metal of a turn.
struct ConductorRecord {
  std::string kind;      ///< "tube", "wire", "bar", "strands"
  std::string material;  ///< name of the material
  SectionSizes sizes;
};

/// The work coil as it is to be wound.
struct CoilRecord {
  std::string shape;  ///< "helix", "flat", "cone", "rings"
  double turns = 0.0;
  double bore = 0.0;               ///< clear inside diameter [m]
  std::optional<double> bore_end;  ///< of a cone at its other end [m]
  double pitch = 0.0;              ///< from turn to turn [m]; 0 for explicit rings
  double conductor_length = 0.0;   ///< along the winding, leads not counted [m]
  ConductorRecord conductor;
  std::optional<double> lead_length;   ///< one way [m]
  std::optional<double> lead_spacing;  ///< between centres [m]
  std::optional<double> coolant_flow;  ///< [m3/s]
  std::optional<Temperature> coolant_inlet;
};

/// What is to be heated.
struct WorkpieceRecord {
  std::string material;            ///< name of the material
  double diameter = 0.0;           ///< largest [m]
  double bottom = 0.0, top = 0.0;  ///< ends on the axis; the coil's middle is 0 [m]
  std::optional<Temperature> target;
  std::string target_at;  ///< "surface", "centre", "mean", "coldest"; empty without target
  std::optional<std::string> target_of;  ///< body, where one was named
};

/// The capacitor bank.
struct BankRecord {
  double capacitance = 0.0;                        ///< of the whole bank [F]
  std::optional<int> cans;                         ///< equal, in parallel
  std::optional<double> can_current, can_voltage;  ///< ratings of one can, rms [A], [V]
};

/// The direct-current side.
struct SupplyRecord {
  double voltage = 0.0;                  ///< [V]
  std::optional<double> limit;           ///< [A]
  std::string limit_kind;                ///< "fold", "trip", "hiccup"
  std::optional<double> fuse;            ///< [A]
  std::optional<double> switch_voltage;  ///< rating of a transistor, peak [V]
  int chokes = 0;
  double choke_inductance = 0.0;  ///< each [H]
};

/// The heater a result belongs to.
struct HeaterRecord {
  CoilRecord coil;
  std::optional<WorkpieceRecord> workpiece;
  std::optional<BankRecord> bank;
  std::optional<SupplyRecord> supply;
};

HeaterRecord record_of(const Heater& heater);

/// What the record says of the heater. The workpiece comes back as a cylinder of its largest
/// diameter, materials by name, explicit rings as none; a drive without supply as a current drive.
Heater heater_of(const HeaterRecord& record);

}  // namespace cw
