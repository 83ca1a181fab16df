#include <fmt/core.h>

#include <cmath>

#include "materials/figures.hpp"
#include "postproc/chart/charts_of_result.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/text/what_is_seen.hpp"

namespace cw {

namespace {

std::string end_words(const std::string& ended) {
  if (ended == "target") return "at the target";
  if (ended == "time") return "when its time was up";
  if (ended == "stall") return "when it got no hotter";
  if (ended == "supply") return "when the supply stopped";
  if (ended == "interrupted") return "when the user stopped it";
  return escaped(ended);
}

std::vector<TableRow> outcome_rows(const HeatResult& heat) {
  std::vector<TableRow> rows = {{"Target", {heat.reached ? "reached" : "not reached"}}};
  if (heat.target)
    rows.push_back(
        {"Wanted",
         {fmt::format("{} {}", shown_celsius(*heat.target), shown_sentence(target_place(heat)))}});
  if (heat.time_to_target)
    rows.push_back({"Time to the target",
                    {fmt::format("{} \u00b1\u00a0{}", shown(*heat.time_to_target, "s"),
                                 shown_percent(heat.time_error()))}});
  if (heat.stall) rows.push_back({"Gets no hotter at", {shown_celsius(*heat.stall)}});
  if (heat.stall_by_emissivity)
    rows.push_back(
        {"An emissivity 0.1 higher moves that by", {shown_change(*heat.stall_by_emissivity)}});
  if (heat.stall_by_gap)
    rows.push_back({shown_sentence("A gap to the coil wider by 1 mm moves that by"),
                    {shown_change(*heat.stall_by_gap)}});
  if (!heat.ended.empty()) rows.push_back({"The run ended", {end_words(heat.ended)}});
  for (const HeatEventResult& event : heat.events)
    rows.push_back({capitalised(escaped(event.name)), {"after " + shown(event.time, "s")}});
  return rows;
}

/// A percentage; values as small as rounding errors are only given as a bound.
std::string small_percent(double share) {
  constexpr double least = 1e-6;
  return std::abs(share) < least ? "below " + shown_percent(least) : shown_percent(share);
}

std::vector<TableRow> energy(const HeatResult& heat) {
  std::vector<TableRow> rows = {
      {"From the supply",
       {fmt::format("{} ({})", shown(heat.energy, "J"), shown(heat.energy / 3600.0, "Wh"))}},
      {"Induced in what is heated", {shown(heat.induced, "J")}},
      {"Stored there", {shown(heat.stored, "J")}}};
  for (const auto& [route, joules] : heat.lost)
    rows.push_back({fmt::format("Lost: {}", escaped(route)), {shown(joules, "J")}});
  for (const auto& [part, joules] : heat.spent)
    rows.push_back({fmt::format("Supplied to {}", escaped(part)), {shown(joules, "J")}});
  rows.push_back({"Not accounted for, of what was induced", {small_percent(heat.ledger_error)}});
  rows.push_back(
      {"Error of power between updates of the field", {small_percent(heat.interpolation_error)}});
  rows.push_back({"Error of the workpiece's power by the mesh", {small_percent(heat.mesh_error)}});
  rows.push_back({"Updates of the field", {std::to_string(heat.field_updates)}});
  return rows;
}

std::vector<TableRow> end_rows(const HeatResult& heat) {
  if (heat.lines.empty()) return {};
  const HeatLine& last = heat.lines.back();
  const auto kelvin = [](double value) { return shown_celsius(Temperature{value}); };
  return {{"Time", {shown(last.time, "s")}},
          {"Surface", {kelvin(last.surface)}},
          {"Centre", {kelvin(last.centre)}},
          {"Coldest", {kelvin(last.coldest)}},
          {"Hottest", {kelvin(last.hottest)}},
          {"Mean", {kelvin(last.mean)}},
          {"Hottest less coldest along the surface", {shown_difference(last.spread)}},
          {fmt::format("Mass above {}", shown_celsius(heat.view)),
           {figure(1e3 * last.mass_above) + "\u00a0g"}},
          {"Power in the workpiece", {shown(last.work_W, "W")}},
          {"Power it loses", {shown(last.lost_W, "W")}}};
}

std::vector<TableRow> hardening(const HeatResult& heat) {
  std::vector<TableRow> rows;
  if (heat.hardening) {
    const HardeningResult& h = *heat.hardening;
    rows.push_back({"Past its transformation (Ac3) from", {shown_celsius(h.austenite)}});
    rows.push_back({"Depth past it at the end", {shown_mm(h.depth)}});
    if (h.through) rows.push_back({"Whole heated length past it after", {shown(*h.through, "s")}});
    rows.push_back({fmt::format("Hottest place above {}", shown_celsius(Temperature::celsius(900))),
                    {shown(h.seconds_above_900, "s")}});
  }
  if (heat.thermometer) {
    const ThermometerResult& t = *heat.thermometer;
    rows.push_back({fmt::format("Infrared thermometer set to {} shows", figure_short(t.setting)),
                    {shown_celsius(t.shown)}});
    rows.push_back({"while the surface is at", {shown_celsius(t.surface)}});
    rows.push_back({"Emissivity of the surface", {figure_short(t.emissivity)}});
  }
  return rows;
}

/// Every body at the end, and the temperature difference across every joint.
std::string body_table(const HeatResult& heat) {
  if (heat.bodies.size() < 2) return "";
  const auto kelvin = [](double value) { return shown_celsius(Temperature{value}); };
  TableGroup bodies, joints{"Across joints: at the end, at most", {}};
  for (const HeatedBody& b : heat.bodies)
    bodies.rows.push_back(
        {escaped(b.name),
         {kelvin(b.at_end.mean), kelvin(b.at_end.hottest), kelvin(b.at_end.coldest),
          b.at_end.molten ? shown_percent(*b.at_end.molten) : ""}});
  for (const JointHeat& joint : heat.joints)
    joints.rows.push_back({fmt::format("{} less {}", escaped(joint.one), escaped(joint.other)),
                           {shown_change(joint.at_end), shown_difference(joint.across), "", ""}});
  PageTable table{"Bodies at the end", {"Body", "Mean", "Hottest", "Coldest", "Molten"}, {bodies}};
  if (!joints.rows.empty()) table.groups.push_back(joints);
  return markup(table);
}

std::string seen_paragraph(const HeatResult& heat) {
  const std::string seen = what_is_seen(heat);
  return seen.empty() ? "" : fmt::format("<p>{}</p>\n", shown_sentence(seen));
}

}  // namespace

PageSection heat_section(const Result& result) {
  if (!result.heat) return {};
  const HeatResult& heat = *result.heat;
  return {"heat", "Heating run",
          chart_figure(heating_chart(result)) + chart_figure(heating_power_chart(result)) +
              chart_figure(heating_supply_chart(result)) +
              chart_figure(heating_balance_chart(result)) +
              chart_figure(heating_frequency_chart(result)) +
              markup({"Heating run",
                      {"Quantity", "Value"},
                      {{"Outcome", outcome_rows(heat)},
                       {"At the end", end_rows(heat)},
                       {"Hardening and thermometer", hardening(heat)},
                       {"Energy", energy(heat)}}}) +
              body_table(heat) + seen_paragraph(heat) +
              fmt::format("<p class=\"quiet\">Every moment, as a table: <code>{}</code></p>\n",
                          escaped(heat.history))};
}

}  // namespace cw
