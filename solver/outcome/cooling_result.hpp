#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/quantity.hpp"

namespace cw {

/// Cooling by water in the tube.
struct WaterCooling {
  double flow = 0.0;  ///< [m^3/s]
  Temperature inlet, outlet;
  Temperature wall_mean, wall_hottest;  ///< of the bore
  double velocity = 0.0;                ///< [m/s]
  double reynolds = 0.0;
  double friction = 0.0;           ///< Darcy friction factor in the coil
  double pressure_drop = 0.0;      ///< coil and leads; hoses and connections not included [Pa]
  std::optional<double> pressure;  ///< of the pump, if the case gives it [Pa]
  double boiling_margin = 0.0;     ///< 100 degC less the hottest wall [K]
  double wanted_rise = 0.0;        ///< [K]
  double flow_for_rise = 0.0;      ///< flow for the wanted rise [m^3/s]
  /// Time after the flow stops, at the outlet: until the standing water boils, and until soft
  /// solder softens. The water that its steam drives out and its latent heat are not counted.
  std::optional<double> no_flow_to_boiling, no_flow_to_solder;  ///< [s]; empty: never
  int passes = 1;          ///< field solutions until coil loss and tube temperature agreed
  double agreement = 0.0;  ///< relative change of coil loss that one more pass would bring,
                           ///< estimated
};

/// Temperature of the tube at a moment.
struct TubePoint {
  bool on = true;     ///< true: heating up; false: cooling down afterwards
  double time = 0.0;  ///< since switched on, or off [s]
  Temperature temperature;
};

/// A tube without water in still air.
struct StillAirCooling {
  Temperature surroundings;
  Temperature limit;  ///< given, or where soft solder softens
  bool limit_given = false;
  double heat_capacity = 0.0;          ///< at the surroundings' temperature [J/K]
  double first_rate = 0.0;             ///< rise when switched on cold [K/s]
  std::optional<Temperature> settles;  ///< steady temperature; empty: above the limit
  std::optional<double> first_on;      ///< from cold to the limit [s]
  std::optional<double> on, off;       ///< repeated, down to `restart` [s]
  Temperature restart;
  double largest_share = 1.0;               ///< of the time on, with short cycles at the limit
  std::vector<TubePoint> points;            ///< heating up, then cooling down
  std::string history = "tables/tube.csv";  ///< relative to the result directory
};

/// The coil's tube in the state that heats it most.
struct CoolingResult {
  std::string at_state;
  double coil_loss = 0.0;    ///< of the winding [W]
  double lead_loss = 0.0;    ///< [W]; the same tube
  double from_work = 0.0;    ///< radiated and conducted from the hot work, an upper bound [W]
  double tube_length = 0.0;  ///< coil and leads [m]
  std::optional<WaterCooling> water;
  std::optional<StillAirCooling> air;
  [[nodiscard]] double heat() const { return coil_loss + lead_loss + from_work; }
};

}  // namespace cw
