#include <fmt/core.h>

#include "materials/figures.hpp"
#include "postproc/chart/charts_of_result.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"

namespace cw {

namespace {

std::string flow_shown(double flow) {
  return figure(flow * 60e3) + "\u00a0L/min";
}

std::vector<TableRow> heat_rows(const CoolingResult& c) {
  return {{"Tube of coil and leads", {shown_distance(c.tube_length), ""}},
          {"From the coil", {shown(c.coil_loss, "W"), "its own loss"}},
          {"From the leads", {shown(c.lead_loss, "W"), "the same tube"}},
          {"From the hot work", {shown(c.from_work, "W"), "radiated and conducted, at most"}}};
}

std::vector<TableRow> water_table_rows(const WaterCooling& w) {
  std::vector<TableRow> rows = {
      {"Water",
       {flow_shown(w.flow),
        fmt::format("{} in, {} out", shown_celsius(w.inlet), shown_celsius(w.outlet))}},
      {"Flow for the wanted rise", {flow_shown(w.flow_for_rise), shown_difference(w.wanted_rise)}},
      {"Wall of the tube, hottest",
       {shown_celsius(w.wall_hottest), shown_difference(w.boiling_margin) + " below boiling"}},
      {"Velocity",
       {shown_velocity(w.velocity), fmt::format("Reynolds number {}", figure(w.reynolds))}},
      {"Pressure drop", {shown(w.pressure_drop, "Pa"), "coil and leads; hoses come on top"}}};
  if (w.no_flow_to_boiling)
    rows.push_back({"Flow lost: boils after",
                    {shown(*w.no_flow_to_boiling, "s"),
                     w.no_flow_to_solder ? fmt::format("soft solder softens after {}",
                                                       shown(*w.no_flow_to_solder, "s"))
                                         : std::string()}});
  rows.push_back({"Coil loss and water agree",
                  {shown_percent(w.agreement),
                   fmt::format("after {} pass{}", w.passes, w.passes == 1 ? "" : "es")}});
  return rows;
}

std::vector<TableRow> air_table_rows(const StillAirCooling& a) {
  std::vector<TableRow> rows = {
      {"Rises at first by",
       {shown_warming(a.first_rate), "from " + shown_celsius(a.surroundings)}}};
  if (a.settles) rows.push_back({"Settles at", {shown_celsius(*a.settles), "may stay on"}});
  if (a.first_on)
    rows.push_back({"On from cold", {shown(*a.first_on, "s"), "to " + shown_celsius(a.limit)}});
  if (a.on && a.off)
    rows.push_back({"After that, on",
                    {shown(*a.on, "s"), fmt::format("then {} off, down to {}", shown(*a.off, "s"),
                                                    shown_celsius(a.restart))}});
  rows.push_back(
      {"Share of the time on", {shown_percent(a.largest_share), "at most, in short bursts"}});
  return rows;
}

}  // namespace

PageSection cooling_section(const Result& result) {
  if (!result.cooling) return {};
  const CoolingResult& c = *result.cooling;
  PageTable table{fmt::format("Heat in the tube, state {}", state_words(c.at_state)),
                  {"Quantity", "Value", "Note"},
                  {{"", heat_rows(c)}}};
  if (c.water) table.groups.push_back({"Water", water_table_rows(*c.water)});
  if (c.air) table.groups.push_back({"Still air, no water", air_table_rows(*c.air)});
  return {"cooling", "Cooling of the coil", markup(table) + chart_figure(tube_chart(result))};
}

}  // namespace cw
