#pragma once

#include "materials/solder.hpp"
#include "solver/outcome/cooling_result.hpp"

namespace cw::sample {

/// A coil with plenty of water; invented.
inline CoolingResult wet() {
  CoolingResult c;
  c.at_state = "at_target";
  c.coil_loss = 340;
  c.lead_loss = 40;
  c.from_work = 20;
  c.tube_length = 2;
  WaterCooling w;
  w.flow = 1e-3 / 60;
  w.inlet = Temperature::celsius(20);
  w.outlet = Temperature::celsius(26);
  w.wall_mean = Temperature::celsius(25);
  w.wall_hottest = Temperature::celsius(30);
  w.boiling_margin = 70;
  w.velocity = 0.9;
  w.reynolds = 4500;
  w.pressure_drop = 30e3;
  w.wanted_rise = 15;
  w.flow_for_rise = 0.4e-3 / 60;
  w.no_flow_to_boiling = 40;
  w.no_flow_to_solder = 60;
  c.water = w;
  return c;
}

/// A coil in still air that would pass its limit.
inline CoolingResult dry() {
  CoolingResult c = wet();
  c.water.reset();
  StillAirCooling a;
  a.surroundings = Temperature::celsius(20);
  a.limit = solder_softens;
  a.first_rate = 4;
  a.first_on = 45;
  a.on = 40;
  a.off = 600;
  a.largest_share = 0.1;
  c.air = a;
  return c;
}

}  // namespace cw::sample
