#pragma once

#include <iosfwd>

#include "solver/coupled/heated_coil.hpp"
#include "solver/coupled/hunting.hpp"
#include "solver/thermal/thermal_stepper.hpp"

namespace cw {

/// One line of the history; temperatures of the workpiece within the heated stretch.
struct HeatingMoment {
  double time = 0.0;                                          ///< [s]
  double surface = 0.0, centre = 0.0;                         ///< half-way up the stretch [K]
  double coldest = 0.0, mean = 0.0, hottest = 0.0;            ///< over the stretch [K]
  double frequency = 0.0;                                     ///< [Hz]
  double coil_current = 0.0;                                  ///< in coil and tank [A] rms
  double supply_current = 0.0, demand = 0.0, loaded_q = 0.0;  ///< 0 without a tank
  double induced_W = 0.0;                                     ///< in everything that is heated
  double coil_W = 0.0, leads_W = 0.0;                         ///< in winding and leads
  double can_W = 0.0;                                         ///< in one; 0 without a tank
  double chokes_W = 0.0, switches_W = 0.0;                    ///< in all of them; the same
  double lost_W = 0.0;   ///< heat that leaves the heated bodies
  double total_W = 0.0;  ///< from the source
  bool solved = true;    ///< the field was solved here; else powers are interpolated
};

/// An event of the run.
struct HeatingEvent {
  std::string name;
  double time = 0.0;  ///< [s]
};

/// The field and the temperatures at one moment, for files and pictures.
struct HeatingSnapshot {
  double time = 0.0;       ///< [s]
  Eigen::VectorXd kelvin;  ///< over the unknowns of the thermal mesh
  double current = 0.0;    ///< through the coil [A] rms
  FieldSolution field;     ///< at that current
};

/// Names of the parts that `parts_of` returns: bodies by region name, then coil, leads and the
/// parts of the drive.
std::vector<std::string> part_names(const HeatedField& field);
/// Powers of a point by part [W]; they add up to total_W.
std::vector<double> parts_of(const HeaterPoint& point);

/// Powers interpolated between two points.
HeaterPoint between(const HeaterPoint& a, const HeaterPoint& b, double share);

/// Everything a heating run needs to continue. A run continued from a stored state gives the same
/// bits as an uninterrupted one.
struct HeatingState {
  ThermalState thermal;
  CoilMemory coil;
  HeaterPoint now;        ///< at thermal.time
  Eigen::VectorXd slope;  ///< of the nodal powers over the last interval [W/s]; empty at first
  std::vector<double> part_slope;  ///< of the powers of parts_of(), the same [W/s]
  /// Half the second derivative of the nodal powers over the last interval [W/s^2]; empty if they
  /// are discontinuous.
  Eigen::VectorXd bend;
  int order = 2;  ///< of the extrapolation of powers: 0 constant, 1 chord, 2 tangent
  double frequency_trend = 0.0, current_trend = 0.0;  ///< slopes of their logarithms over the last
                                                      ///< interval [1/s]
  double capacity = 0.0;  ///< of all that is heated by the field, at the start [J/K]
  double interval = 0.0;  ///< length of the last one [s]
  double next = 0.0;      ///< length of the next one to try [s]
  Hunting hunting;
  double refused_until = 0.0;  ///< end of a rejected interval that is not yet passed [s]; 0: none
  double missed = 0.0;         ///< error of its predicted power, relative to the power
  std::vector<HeatingMoment> moments;
  std::vector<std::vector<double>> readings;  ///< HeatingPlan::readings, one row per moment
  std::vector<HeatingSnapshot> snapshots;
  std::vector<HeatingEvent> events;
  std::vector<double> energy;        ///< by part since the start [J]
  double interpolation_error = 0.0;  ///< estimated error of the heat between updates [J]
  double judged = 0.0;               ///< sum of the induced powers at the snapshots [W]
  double mesh_error = 0.0;           ///< of those, the estimated error from the mesh [W]
  double net_share = 1.0;  ///< (induced - lost)/induced at the last update, or its recent mean
  int updates = 0, rejected = 0;  ///< of the field
};

/// Writes and reads it as bytes of this machine. `read_state` throws std::runtime_error on a stream
/// that ends early or holds something else.
void write_state(std::ostream& out, const HeatingState& state);
HeatingState read_state(std::istream& in);

}  // namespace cw
