#pragma once

#include <concepts>
#include <type_traits>

#include "solver/outcome/result.hpp"

namespace cw {

// Keys of everything beside field and circuit: cooling, stray field, parts, first power-up. See
// result_keys.hpp for how they serve writing and reading.

/// T or const T: a reader fills what a writer only reads.
template <class T, class Part>
concept PartOf = std::same_as<std::remove_const_t<T>, Part>;

void keys(auto& file, PartOf<WaterCooling> auto& water) {
  file("flow_m3_per_s", water.flow);
  file("inlet_K", water.inlet);
  file("outlet_K", water.outlet);
  file("wall_mean_K", water.wall_mean);
  file("wall_hottest_K", water.wall_hottest);
  file("velocity_m_per_s", water.velocity);
  file("reynolds", water.reynolds);
  file("friction_factor", water.friction);
  file("pressure_drop_Pa", water.pressure_drop);
  file("pump_pressure_Pa", water.pressure);
  file("boiling_margin_K", water.boiling_margin);
  file("wanted_rise_K", water.wanted_rise);
  file("flow_for_rise_m3_per_s", water.flow_for_rise);
  file("no_flow_to_boiling_s", water.no_flow_to_boiling);
  file("no_flow_to_solder_s", water.no_flow_to_solder);
  file("passes", water.passes);
  file("agreement", water.agreement);
}

/// Its points are in the table named by `history`.
void keys(auto& file, PartOf<StillAirCooling> auto& air) {
  file("surroundings_K", air.surroundings);
  file("limit_K", air.limit);
  file("limit_given", air.limit_given);
  file("heat_capacity_J_per_K", air.heat_capacity);
  file("first_rate_K_per_s", air.first_rate);
  file("settles_K", air.settles);
  file("first_on_s", air.first_on);
  file("on_s", air.on);
  file("off_s", air.off);
  file("restart_K", air.restart);
  file("largest_share", air.largest_share);
  file("history", air.history);
}

void keys(auto& file, PartOf<CoolingResult> auto& cooling) {
  file("at_state", cooling.at_state);
  file("coil_W", cooling.coil_loss);
  file("leads_W", cooling.lead_loss);
  file("from_work_W", cooling.from_work);
  file("tube_length_m", cooling.tube_length);
  file("water", cooling.water);
  file("still_air", cooling.air);
}

void keys(auto& file, PartOf<ExposureLevel> auto& level) {
  file("name", level.name);
  file("level_T_rms", level.level);
  file("keep_out_m", level.keep_out);
}

void keys(auto& file, PartOf<ExposureResult> auto& exposure) {
  file("distances_m", exposure.distances);
  file("field_T_rms", exposure.field_rms);
  file("keep_out_m", exposure.keep_out);
  file("reference", exposure.reference);
  file("at_state", exposure.at_state);
  file("axis_T_rms", exposure.axis_rms);
  file("beside_T_rms", exposure.beside_rms);
  file("levels", exposure.levels);
}

void keys(auto& file, PartOf<ChokeResult> auto& choke) {
  file("turns", choke.turns);
  file("wire_length_m", choke.wire_length);
  file("resistance_ohm", choke.resistance);
  file("inductance_H", choke.inductance);
  file("unbiased_inductance_H", choke.unbiased_inductance);
  file("flux_density_peak_T", choke.flux_density_peak);
  file("hole_fill", choke.hole_fill);
  file("saturation_current_A", choke.saturation_current);
  file("at_state", choke.state);
}

void keys(auto& file, PartOf<JunctionResult> auto& junction) {
  file("loss_W", junction.loss);
  file("junction_K", junction.junction);
  file("sink_allowed_K_per_W", junction.sink_allowed);
  file("without_sink_K", junction.alone);
  file("without_sink_to_limit_s", junction.alone_to_limit);
  file("at_state", junction.state);
}

void keys(auto& file, PartOf<PathResult> auto& path) {
  file("name", path.name);
  file("current_rms_A", path.current);
  file("resistance_ohm", path.resistance);
  file("loss_W", path.loss);
  file("solder_share", path.solder_share);
  file("rise_K", path.rise);
  file("solder_softens_after_s", path.softens_after);
  file("width_needed_m", path.width_needed);
  file("at_state", path.state);
}

void keys(auto& file, PartOf<MainsResult> auto& mains) {
  file("power_W", mains.power);
  file("at_state", mains.state);
  file("energy_J", mains.energy);
  file("cost", mains.cost);
}

void keys(auto& file, PartOf<DutyResult> auto& duty) {
  file("part", duty.part);
  file("power_W", duty.power);
  file("limit_K", duty.limit);
  file("on_s", duty.on);
  file("off_s", duty.off);
  file("share", duty.share);
  file("steady_K", duty.steady);
  file("at_state", duty.state);
}

void keys(auto& file, PartOf<NearbyResult> auto& nearby) {
  file("name", nearby.name);
  file("field_T_rms", nearby.field);
  file("power_W", nearby.power);
  file("at_state", nearby.state);
}

void keys(auto& file, PartOf<PartsResult> auto& parts) {
  file("choke", parts.choke);
  file("switch", parts.junction);
  file("conductors", parts.path);
  file("mains", parts.mains);
  file("duty", parts.duty);
  file("nearby", parts.nearby);
  file("turn_gap_breakdown_peak_V", parts.breakdown_peak);
}

void keys(auto& file, PartOf<ReadingResult> auto& reading) {
  file("name", reading.name);
  file("unit", reading.unit);
  file("value", reading.value);
  file("low", reading.low);
  file("high", reading.high);
}

void keys(auto& file, PartOf<CommissioningResult> auto& commissioning) {
  file("readings", commissioning.readings);
}

}  // namespace cw
