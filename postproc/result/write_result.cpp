#include "postproc/result/write_result.hpp"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "postproc/text/cautions.hpp"

namespace cw {

namespace {

using Json = nlohmann::ordered_json;

template <class T>
void put(Json& json, const char* key, const std::optional<T>& value) {
  if (value) json[key] = *value;
}

Json turn_column(const CoilResult& coil, double TurnResult::*member) {
  Json column = Json::array();
  for (const auto& turn : coil.turns) column.push_back(turn.*member);
  return column;
}

Json json_of(const CoilResult& coil) {
  Json json;
  json["inductance_H"] = coil.inductance;
  json["resistance_ohm"] = coil.resistance;
  json["conductor_resistance_ohm"] = coil.conductor_resistance;
  json["reflected_resistance_ohm"] = coil.reflected_resistance;
  json["part_turn_resistance_ohm"] = coil.part_turn_resistance;
  json["winding_inductance_H"] = coil.winding_inductance;
  json["helix_correction_H"] = coil.helix_correction;
  json["lead_inductance_H"] = coil.lead_inductance;
  json["lead_resistance_ohm"] = coil.lead_resistance;
  put(json, "dc_resistance_ohm", coil.dc_resistance);
  json["turns"] = coil.winding_turns;
  json["rings"] = coil.turns.size();
  json["mean_radius_m"] = coil.mean_radius;
  json["length_m"] = coil.length;
  json["turn_r_m"] = turn_column(coil, &TurnResult::r);
  json["turn_z_m"] = turn_column(coil, &TurnResult::z);
  json["turn_weight"] = turn_column(coil, &TurnResult::weight);
  json["turn_voltage_rms_V"] = turn_column(coil, &TurnResult::voltage_rms);
  json["turn_current_rms_A"] = turn_column(coil, &TurnResult::current_rms);
  json["turn_loss_W"] = turn_column(coil, &TurnResult::loss);
  return json;
}

Json json_of(const DriveResult& drive) {
  return {{"kind", drive.kind},
          {"frequency_Hz", drive.frequency},
          {"current_rms_A", drive.current_rms},
          {"voltage_rms_V", drive.voltage_rms}};
}

Json json_of(const TankResult& tank) {
  return {{"voltage_rms_V", tank.voltage_rms},
          {"voltage_peak_V", tank.voltage_peak},
          {"current_rms_A", tank.current_rms},
          {"capacitor_current_rms_A", tank.capacitor_current_rms},
          {"reactive_power_var", tank.reactive_power},
          {"loaded_q", tank.loaded_q}};
}

Json json_of(const SupplyResult& supply) {
  return {{"voltage_V", supply.voltage},
          {"current_A", supply.current},
          {"demand_A", supply.demand},
          {"power_W", supply.power},
          {"limited", supply.limited}};
}

Json json_of(const PowerBalance& power) {
  Json json;
  put(json, "workpiece_W", power.workpiece);
  json["bodies_W"] = Json::object();
  for (const auto& [name, watts] : power.bodies) json["bodies_W"][name] = watts;
  json["coil_W"] = power.coil;
  json["leads_W"] = power.leads;
  put(json, "joints_W", power.joints);
  put(json, "capacitors_W", power.capacitors);
  put(json, "switches_W", power.switches);
  put(json, "chokes_W", power.chokes);
  put(json, "cable_W", power.cable);
  put(json, "battery_W", power.battery);
  json["total_W"] = power.total;
  json["density_W_per_m3"] = Json::object();
  for (const auto& [name, density] : power.density) {
    json["density_W_per_m3"][name] = {
        {"lowest", density.lowest}, {"mean", density.mean}, {"highest", density.highest}};
  }
  return json;
}

Json json_of(const Accuracy& accuracy) {
  Json json;
  put(json, "workpiece_W_relative", accuracy.workpiece_power);
  put(json, "coil_W_relative", accuracy.coil_power);
  put(json, "inductance_relative", accuracy.inductance);
  json["unknowns"] = accuracy.unknowns;
  json["nonlinear_iterations"] = accuracy.nonlinear_iterations;
  json["method"] = accuracy.method;
  return json;
}

Json json_of(const StateResult& state) {
  Json json;
  json["name"] = state.name;
  json["frequency_Hz"] = state.frequency.hertz;
  if (state.workpiece_temperature) {
    json["workpiece_temperature_K"] = state.workpiece_temperature->kelvin;
  }
  json["drive"] = json_of(state.drive);
  json["coil"] = json_of(state.coil);
  if (state.tank) json["tank"] = json_of(*state.tank);
  if (state.supply) json["supply"] = json_of(*state.supply);
  json["power"] = json_of(state.power);
  put(json, "efficiency", state.efficiency);
  put(json, "skin_depth_m", state.skin_depth);
  put(json, "surface_field_rms_A_per_m", state.surface_field_rms);
  if (state.saturation) {
    Json& s = json["saturation"];
    s["relative_permeability"] = state.saturation->relative_permeability;
    s["least_skin_depth_m"] = state.saturation->least_skin_depth;
    s["largest_skin_depth_m"] = state.saturation->largest_skin_depth;
    s["share_in_first_skin_depth"] = state.saturation->share_in_first_skin_depth;
  }
  json["energy_J"] = state.energy;
  json["accuracy"] = json_of(state.accuracy);
  return json;
}

Json json_of(const HeatResult& heat) {
  Json json;
  json["reached"] = heat.reached;
  json["ended"] = heat.ended;
  if (heat.target) {
    json["target_K"] = heat.target->kelvin;
    json["target_at"] = heat.target_at;
  }
  put(json, "time_to_target_s", heat.time_to_target);
  if (heat.stall) json["stall_K"] = heat.stall->kelvin;
  json["energy_J"] = heat.energy;
  json["induced_J"] = heat.induced;
  json["stored_J"] = heat.stored;
  json["lost_J"] = heat.lost;
  json["spent_J"] = heat.spent;
  json["ledger_error"] = heat.ledger_error;
  json["interpolation_error"] = heat.interpolation_error;
  json["field_updates"] = heat.field_updates;
  json["events"] = Json::array();
  for (const HeatEventResult& event : heat.events)
    json["events"].push_back({{"name", event.name}, {"time_s", event.time}});
  if (!heat.lines.empty()) {
    const HeatLine& last = heat.lines.back();
    json["at_end"] = {{"time_s", last.time},        {"surface_K", last.surface},
                      {"centre_K", last.centre},    {"coldest_K", last.coldest},
                      {"mean_K", last.mean},        {"hottest_K", last.hottest},
                      {"work_W", last.work_W},      {"lost_W", last.lost_W},
                      {"spread_K", last.spread},    {"mass_above_kg", last.mass_above},
                      {"above_K", heat.view.kelvin}};
  }
  if (heat.hardening) {
    Json& h = json["hardening"];
    h["austenite_K"] = heat.hardening->austenite.kelvin;
    put(h, "through_after_s", heat.hardening->through);
    h["depth_m"] = heat.hardening->depth;
    h["above_900_degC_s"] = heat.hardening->seconds_above_900;
  }
  if (heat.thermometer)
    json["thermometer"] = {{"set_to", heat.thermometer->setting},
                           {"shows_K", heat.thermometer->shown.kelvin},
                           {"surface_K", heat.thermometer->surface.kelvin}};
  json["history"] = heat.history;
  return json;
}

const char* word(Verdict verdict) {
  switch (verdict) {
    case Verdict::ok:
      return "ok";
    case Verdict::watch:
      return "watch";
    case Verdict::stop:
      break;
  }
  return "stop";
}

Json json_of(const LimitResult& limit) {
  Json json;
  json["part"] = limit.part;
  json["quantity"] = limit.quantity;
  json["value"] = limit.value;
  put(json, "limit", limit.limit);
  put(json, "fraction", limit.fraction);
  json["verdict"] = word(limit.verdict);
  json["at_state"] = limit.at_state;
  json["advice"] = limit.advice;
  return json;
}

Json json_of(const ExposureResult& exposure) {
  Json json;
  json["distances_m"] = exposure.distances;
  json["field_T_rms"] = exposure.field_rms;
  put(json, "keep_out_m", exposure.keep_out);
  json["reference"] = exposure.reference;
  return json;
}

Json json_of(const SourceNote& note) {
  if (note.provenance.empty()) return fmt::format("{}: {}", note.of, note.source);
  return fmt::format("{}: {} ({})", note.of, note.source, note.provenance);
}

template <class T>
Json list_of(const std::vector<T>& items) {
  Json list = Json::array();
  for (const auto& item : items) list.push_back(json_of(item));
  return list;
}

/// nlohmann-json would write null for infinity and not-a-number, and a script would stumble far
/// from the cause.
void require_finite(const Json& json, const std::string& key) {
  if (json.is_number_float() && !std::isfinite(json.get<double>())) {
    throw std::logic_error(fmt::format("result key {} is not a finite number", key));
  }
  if (!json.is_structured()) return;
  for (const auto& [name, value] : json.items()) {
    require_finite(value, key.empty() ? name : fmt::format("{}.{}", key, name));
  }
}

Json json_of(const Result& result) {
  Json json;
  json["format"] = result_format;
  json["title"] = result.title;
  json["version"] = result.build.version;
  json["case_sha256"] = result.case_sha256;
  json["build"] = {{"version", result.build.version},
                   {"compiler", result.build.compiler},
                   {"libraries", result.build.libraries}};
  json["states"] = list_of(result.states);
  if (result.heat) json["heat"] = json_of(*result.heat);
  json["limits"] = list_of(result.limits);
  if (result.exposure) json["exposure"] = json_of(*result.exposure);
  json["timing"] = {{"mesh_s", result.timing.mesh},
                    {"solve_s", result.timing.solve},
                    {"total_s", result.timing.total}};
  json["warnings"] = result.warnings;
  json["cautions"] = Json::array();
  for (const auto& caution : cautions(result)) json["cautions"].push_back(caution.text);
  json["sources"] = list_of(result.sources);
  return json;
}

}  // namespace

std::string result_json(const Result& result) {
  const Json json = json_of(result);
  require_finite(json, "");
  // Text from a case file may hold bytes that are no UTF-8; they become U+FFFD, never an exception.
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace cw
