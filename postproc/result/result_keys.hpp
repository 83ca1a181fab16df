#pragma once

#include <array>

#include "postproc/result/design_keys.hpp"

namespace cw {

// The keys of result.json, listed once for writing and for reading. `file(key, member)` is called
// for every member in the order of the file: a writer writes it, a reader reads it. An empty
// std::optional has no key in the file.

void keys(auto& file, PartOf<CoilResult> auto& coil) {
  file("inductance_H", coil.inductance);
  file("resistance_ohm", coil.resistance);
  file("conductor_resistance_ohm", coil.conductor_resistance);
  file("reflected_resistance_ohm", coil.reflected_resistance);
  file("part_turn_resistance_ohm", coil.part_turn_resistance);
  file("winding_inductance_H", coil.winding_inductance);
  file("helix_correction_H", coil.helix_correction);
  file("lead_inductance_H", coil.lead_inductance);
  file("lead_resistance_ohm", coil.lead_resistance);
  file("dc_resistance_ohm", coil.dc_resistance);
  file("turns", coil.winding_turns);
  file.count("rings", coil.turns);
  file("mean_radius_m", coil.mean_radius);
  file("length_m", coil.length);
  file("temperature_K", coil.temperature);
  file.column("turn_r_m", coil.turns, &TurnResult::r);
  file.column("turn_z_m", coil.turns, &TurnResult::z);
  file.column("turn_weight", coil.turns, &TurnResult::weight);
  file.column("turn_voltage_rms_V", coil.turns, &TurnResult::voltage_rms);
  file.column("turn_current_rms_A", coil.turns, &TurnResult::current_rms);
  file.column("turn_loss_W", coil.turns, &TurnResult::loss);
}

void keys(auto& file, PartOf<DriveResult> auto& drive) {
  file("kind", drive.kind);
  file("frequency_Hz", drive.frequency);
  file("current_rms_A", drive.current_rms);
  file("voltage_rms_V", drive.voltage_rms);
}

void keys(auto& file, PartOf<TankResult> auto& tank) {
  file("voltage_rms_V", tank.voltage_rms);
  file("voltage_peak_V", tank.voltage_peak);
  file("current_rms_A", tank.current_rms);
  file("capacitor_current_rms_A", tank.capacitor_current_rms);
  file("reactive_power_var", tank.reactive_power);
  file("loaded_q", tank.loaded_q);
}

void keys(auto& file, PartOf<SupplyResult> auto& supply) {
  file("voltage_V", supply.voltage);
  file("current_A", supply.current);
  file("demand_A", supply.demand);
  file("power_W", supply.power);
  file("limited", supply.limited);
}

void keys(auto& file, PartOf<PowerDensity> auto& density) {
  file("lowest", density.lowest);
  file("mean", density.mean);
  file("highest", density.highest);
}

void keys(auto& file, PartOf<PowerBalance> auto& power) {
  file("workpiece_W", power.workpiece);
  file("bodies_W", power.bodies);
  file("coil_W", power.coil);
  file("leads_W", power.leads);
  file("joints_W", power.joints);
  file("capacitors_W", power.capacitors);
  file("switches_W", power.switches);
  file("chokes_W", power.chokes);
  file("cable_W", power.cable);
  file("battery_W", power.battery);
  file("total_W", power.total);
  file("density_W_per_m3", power.density);
}

void keys(auto& file, PartOf<Accuracy> auto& accuracy) {
  file("workpiece_W_relative", accuracy.workpiece_power);
  file("coil_W_relative", accuracy.coil_power);
  file("bodies_W_relative", accuracy.bodies_power);
  file("inductance_relative", accuracy.inductance);
  file("unknowns", accuracy.unknowns);
  file("nonlinear_iterations", accuracy.nonlinear_iterations);
  file("method", accuracy.method);
}

void keys(auto& file, PartOf<Saturation> auto& saturation) {
  file("relative_permeability", saturation.relative_permeability);
  file("least_skin_depth_m", saturation.least_skin_depth);
  file("largest_skin_depth_m", saturation.largest_skin_depth);
  file("share_in_first_skin_depth", saturation.share_in_first_skin_depth);
}

void keys(auto& file, PartOf<StateResult> auto& state) {
  file("name", state.name);
  file("met", state.met);
  file("frequency_Hz", state.frequency);
  file("workpiece_temperature_K", state.workpiece_temperature);
  file("drive", state.drive);
  file("coil", state.coil);
  file("tank", state.tank);
  file("supply", state.supply);
  file("power", state.power);
  file("efficiency", state.efficiency);
  file("skin_depth_m", state.skin_depth);
  file("surface_field_rms_A_per_m", state.surface_field_rms);
  file("saturation", state.saturation);
  file("energy_J", state.energy);
  file("accuracy", state.accuracy);
}

void keys(auto& file, PartOf<DemandResult> auto& demand) {
  file("temperatures_K", demand.temperatures);
  file("currents_A", demand.currents);
  file("frequencies_Hz", demand.frequencies);
}

void keys(auto& file, PartOf<HeatEventResult> auto& event) {
  file("name", event.name);
  file("time_s", event.time);
}

void keys(auto& file, PartOf<HeatLine> auto& line) {
  file("time_s", line.time);
  file("surface_K", line.surface);
  file("centre_K", line.centre);
  file("coldest_K", line.coldest);
  file("mean_K", line.mean);
  file("hottest_K", line.hottest);
  file("work_W", line.work_W);
  file("lost_W", line.lost_W);
  file("spread_K", line.spread);
  file("mass_above_kg", line.mass_above);
}

void keys(auto& file, PartOf<HardeningResult> auto& hardening) {
  file("austenite_K", hardening.austenite);
  file("through_after_s", hardening.through);
  file("depth_m", hardening.depth);
  file("above_900_degC_s", hardening.seconds_above_900);
  file("too_hot_after_s", hardening.too_hot);
}

void keys(auto& file, PartOf<ThermometerResult> auto& thermometer) {
  file("set_to", thermometer.setting);
  file("surface_emissivity", thermometer.emissivity);
  file("shows_K", thermometer.shown);
  file("surface_K", thermometer.surface);
}

void keys(auto& file, PartOf<HeatedBody> auto& body) {
  file("name", body.name);
  file("mean_K", body.at_end.mean);
  file("hottest_K", body.at_end.hottest);
  file("coldest_K", body.at_end.coldest);
  file("molten", body.at_end.molten);
}

void keys(auto& file, PartOf<JointHeat> auto& joint) {
  file("one", joint.one);
  file("other", joint.other);
  file("largest_difference_K", joint.across);
  file("difference_at_end_K", joint.at_end);
}

/// The file holds only the last of the lines; `history` holds all of them.
void keys(auto& file, PartOf<HeatResult> auto& heat) {
  file("reached", heat.reached);
  file("ended", heat.ended);
  file("target_K", heat.target);
  file("target_at", heat.target_at);
  file("target_of", heat.target_of);
  file("target_to", heat.target_to);
  file("target_depth_m", heat.target_depth);
  file("reading_K", heat.reading);
  file("time_to_target_s", heat.time_to_target);
  file("stall_K", heat.stall);
  file("stall_by_emissivity_K", heat.stall_by_emissivity);
  file("stall_by_gap_K", heat.stall_by_gap);
  file("energy_J", heat.energy);
  file("induced_J", heat.induced);
  file("stored_J", heat.stored);
  file("lost_J", heat.lost);
  file("spent_J", heat.spent);
  file("ledger_error", heat.ledger_error);
  file("interpolation_error", heat.interpolation_error);
  file("mesh_error", heat.mesh_error);
  file("field_updates", heat.field_updates);
  file("events", heat.events);
  file.last("at_end", heat.lines);
  file("bodies", heat.bodies);
  file("joints", heat.joints);
  file("above_K", heat.view);
  file("hardening", heat.hardening);
  file("thermometer", heat.thermometer);
  file("history", heat.history);
}

void keys(auto& file, PartOf<LimitResult> auto& limit) {
  file("part", limit.part);
  file("quantity", limit.quantity);
  file("value", limit.value);
  file("limit", limit.limit);
  file("fraction", limit.fraction);
  file("verdict", limit.verdict);
  file("at_state", limit.at_state);
  file("advice", limit.advice);
}

void keys(auto& file, PartOf<JobVerdict> auto& verdict) {
  file("answer", verdict.answer);
  file("bottleneck", verdict.bottleneck);
  file("sentence", verdict.sentence);
  file("why", verdict.why);
  file("first_out", verdict.first_out);
}

void keys(auto& file, PartOf<Remedy::Step> auto& step) {
  file("of", step.knob);
  file("from", step.from);
  file("to", step.to);
}

void keys(auto& file, PartOf<Remedy> auto& remedy) {
  file("change", remedy.change);
  file("outcome", remedy.outcome);
  file("steps", remedy.steps);
  file("reached", remedy.reached);
  file("time_to_target_s", remedy.time_to_target);
  file("end_K", remedy.end);
  file("largest_fraction", remedy.largest_fraction);
  file("nearest_part", remedy.nearest_part);
  file("past_their_limit", remedy.past_their_limit);
}

void keys(auto& file, PartOf<Timing> auto& timing) {
  file("mesh_s", timing.mesh);
  file("solve_s", timing.solve);
  file("total_s", timing.total);
}

void keys(auto& file, PartOf<BuildInfo> auto& build) {
  file("version", build.version);
  file("compiler", build.compiler);
  file("libraries", build.libraries);
}

void keys(auto& file, PartOf<Result> auto& result) {
  file("title", result.title);
  file("version", result.build.version);
  file("case_sha256", result.case_sha256);
  file("build", result.build);
  file("verdict", result.verdict);
  file("remedies", result.remedies);
  file("design", result.heater);
  file("states", result.states);
  file("demand", result.demand);
  file("heat", result.heat);
  file("limits", result.limits);
  file("cooling", result.cooling);
  file("exposure", result.exposure);
  file("parts", result.parts);
  file("commissioning", result.commissioning);
  file("timing", result.timing);
  file("warnings", result.warnings);
  file.cautions("cautions", result);
  file("sources", result.sources);
}

/// Words in the file for values that are not numbers.
constexpr std::array<const char*, 3> words_for(Verdict /*of*/) {
  return {"ok", "watch", "stop"};
}
constexpr std::array<const char*, 5> words_for(Answer /*of*/) {
  return {"yes", "at_supply_limit", "past_limits", "no", "unknown"};
}
constexpr std::array<const char*, 8> words_for(Bottleneck /*of*/) {
  return {"none", "supply_folds", "supply_trips", "loaded_q", "coupling", "losses", "part", "time"};
}
constexpr std::array<const char*, 9> words_for(Knob /*of*/) {
  return {"turns",  "bore_m",   "pitch_m", "cans",      "capacitance_F",
          "supply", "sleeve_m", "time_s",  "finer_cans"};
}
template <class T>
concept WrittenAsWord = requires(T value) {
  words_for(value);
};

}  // namespace cw
