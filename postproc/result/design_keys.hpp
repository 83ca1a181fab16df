#pragma once

#include <algorithm>
#include <array>
#include <string>
#include <string_view>

#include "postproc/result/heater_keys.hpp"
#include "solver/heater/rings.hpp"

namespace cw {

// Keys of the heater of a result: what a reader of the page needs to buy, to wind and to set.
// Members that the file holds in another form go through a copy. The workpiece is read back as a
// cylinder of its largest diameter, materials by name, explicit rings as none; a drive without
// supply as a current drive.

inline constexpr std::array<std::string_view, 4> shape_words = {"helix", "flat", "cone", "rings"};
inline constexpr std::array<std::string_view, 4> target_words = {"surface", "centre", "mean",
                                                                 "coldest"};
inline constexpr std::array<std::string_view, 3> limit_words_of_supply = {"fold", "trip", "hiccup"};

/// A part that was read replaces the one in the heater; a part that is only written stays.
template <class T>
void give_back(T& part, T&& made) {
  part = std::move(made);
}
template <class T>
void give_back(const T& /*part*/, T&& /*made*/) {}

/// An enumerator by its word, the last one for any other; not written unless it is `told`.
template <class E, std::size_t N>
void word_key(auto& file, const char* key, E& value, const std::array<std::string_view, N>& words,
              bool told = true) {
  std::string word(told ? words[static_cast<std::size_t>(value)] : "");
  file(key, word);
  value = static_cast<E>(std::find(words.begin(), words.end() - 1, word) - words.begin());
}

void keys(auto& file, PartOf<Conductor> auto& conductor) {
  std::string kind(conductor.kind());
  Conductor made;
  made.material.name = conductor.material.name;
  SectionSizes sizes = conductor.sizes();
  file("kind", kind);
  file("material", made.material.name);
  file("radial_m", sizes.radial);
  file("axial_m", sizes.axial);
  file("wall_m", sizes.wall);
  file("strands", sizes.strands);
  made.section = section_of(kind, sizes);
  give_back(conductor, std::move(made));
}

void keys(auto& file, PartOf<Coil> auto& coil) {
  Coil made = coil;
  std::optional<double> lead_length, lead_spacing, flow;
  std::optional<Temperature> inlet;
  if (coil.leads) lead_length = coil.leads->length;
  if (coil.leads) lead_spacing = coil.leads->spacing;
  if (coil.coolant) flow = coil.coolant->flow;
  if (coil.coolant) inlet = coil.coolant->inlet;
  if (coil.shape != CoilShape::cone) made.bore_end.reset();
  word_key(file, "shape", made.shape, shape_words);
  file("turns", made.turns);
  file("bore_m", made.bore);
  file("bore_end_m", made.bore_end);
  file("pitch_m", made.pitch);
  file.derived("conductor_length_m", [&] { return conductor_length(coil); });
  file("conductor", made.conductor);
  file("lead_length_m", lead_length);
  file("lead_spacing_m", lead_spacing);
  file("coolant_flow_m3_per_s", flow);
  file("coolant_inlet_K", inlet);
  if (lead_length) made.leads = Leads{*lead_length, lead_spacing.value_or(0.0), {}};
  if (flow) made.coolant.emplace().flow = *flow;
  if (flow && inlet) made.coolant->inlet = *inlet;
  give_back(coil, std::move(made));
}

/// The body to be heated, and its target.
struct HeatedPart {
  std::string material;
  OutlineExtent extent;
  Heat heat;
};

void keys(auto& file, PartOf<HeatedPart> auto& part) {
  HeatedPart made = part;
  double diameter = 2.0 * part.extent.outer;
  file("material", made.material);
  file("diameter_m", diameter);
  file("bottom_m", made.extent.low);
  file("top_m", made.extent.high);
  file("target_K", made.heat.target);
  word_key(file, "target_at", made.heat.target_at, target_words, made.heat.target.has_value());
  if (!made.heat.target) made.heat.target_of.reset();
  file("target_depth_m", made.heat.target_depth);
  file("target_of", made.heat.target_of);
  made.extent.outer = diameter / 2.0;
  give_back(part, std::move(made));
}

void keys(auto& file, PartOf<Tank> auto& tank) {
  Tank made = tank;
  CanLimits limits = tank.can_limits.value_or(CanLimits{});
  file("capacitance_F", made.capacitance);
  std::optional<int> in_series;
  if (tank.cans_in_series > 1) in_series = tank.cans_in_series;
  file("cans", made.cans);
  file("cans_in_series", in_series);
  file("can_current_rms_A", limits.current);
  file("can_voltage_rms_V", limits.voltage);
  made.cans_in_series = std::max(1, in_series.value_or(1));  // a result file may hold anything
  made.can_limits = limits;
  give_back(tank, std::move(made));
}

void keys(auto& file, PartOf<PushPullDrive> auto& drive) {
  PushPullDrive made = drive;
  file("voltage_V", made.supply);
  file("limit_A", made.supply_limit);
  word_key(file, "limit_kind", made.limit_kind, limit_words_of_supply,
           made.supply_limit.has_value());
  file("fuse_A", made.fuse);
  file("switch_voltage_peak_V", made.transistor.voltage_limit);
  file("chokes", made.choke.count);
  file("choke_inductance_H", made.choke.inductance);
  give_back(drive, std::move(made));
}

void keys(auto& file, PartOf<Heater> auto& heater) {
  Heater made;
  made.coil = heater.coil;
  if (heater.tank) made.tank.emplace(*heater.tank);
  std::optional<HeatedPart> work;
  std::optional<PushPullDrive> supply;
  if (heater.workpiece)
    work = {heater.workpiece->material.name, extent_of(heater.workpiece->outline),
            heater.heat.value_or(Heat{})};
  if (const auto* drive = std::get_if<PushPullDrive>(&heater.drive)) supply = *drive;
  file("coil", made.coil);
  file("workpiece", work);
  file("bank", made.tank);
  file("supply", supply);
  if (supply)
    made.drive = *supply;
  else
    made.drive = CurrentDrive{};
  if (work) {
    const auto& [inner, outer, low, high] = work->extent;
    made.workpiece.emplace().material.name = work->material;
    made.workpiece->outline.profile = {{0.0, low}, {outer, low}, {outer, high}, {0.0, high}};
    if (work->heat.target) made.heat = work->heat;
  }
  give_back(heater, std::move(made));
}

}  // namespace cw
