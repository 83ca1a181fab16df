#include <fmt/core.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "postproc/chart/charts_of_result.hpp"
#include "postproc/making/coil_former.hpp"
#include "postproc/making/heater_netlist.hpp"
#include "postproc/picture/coil_drawing.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/result/leading_state.hpp"

namespace cw {

namespace {

using State = const StateResult&;

/// Sizes that the case gives.
std::vector<TableRow> given_sizes(const Heater& heater) {
  const Coil& coil = heater.coil;
  std::vector<TableRow> rows;
  const auto add = [&](const char* name, std::optional<double> metres) {
    if (metres) rows.push_back({name, {drawn_mm(*metres)}});
  };
  add("Bore, clear", coil.bore);
  if (coil.shape == CoilShape::cone) add("Bore at the upper end, clear", coil.bore_end);
  if (coil.pitch > 0.0) add("Pitch, from turn to turn", coil.pitch);
  add("Conductor, radial", coil.conductor.radial_size());
  add("Conductor, axial", coil.conductor.axial_size());
  add("Conductor, wall", coil.conductor.wall());
  if (const StrandBundle* bundle = coil.conductor.strands())
    rows.push_back({"Conductor, strands", {std::to_string(bundle->strands)}});
  if (coil.leads) {
    add("Leads, one way", coil.leads->length);
    add("Leads, between their middles", coil.leads->spacing);
  }
  if (heater.workpiece) {
    const OutlineExtent work = extent_of(heater.workpiece->outline);
    add("Workpiece, diameter", 2.0 * work.outer);
    add("Workpiece, length", work.high - work.low);
  }
  return rows;
}

std::string sizes(const Result& result, const CoilResult& coil) {
  std::vector<TableRow> rows = {
      {"Turns, as wound", {figure_short(coil.winding_turns)}},
      {"Calculated as", {fmt::format("{} rings", coil.turns.size())}},
      {"Mean diameter of the turns", {drawn_mm(2.0 * coil.mean_radius)}},
      {"Mean radius of the turns", {drawn_mm(coil.mean_radius)}},
      {"Length over the conductor", {drawn_mm(coil.length)}},
  };
  if (!coil.turns.empty()) {
    const auto [low, high] =
        std::minmax_element(coil.turns.begin(), coil.turns.end(),
                            [](const TurnResult& a, const TurnResult& b) { return a.z < b.z; });
    // The length includes one conductor beyond the outermost centres.
    const double conductor = coil.length - (high->z - low->z);
    if (conductor > 0.0) rows.push_back({"Conductor, size along the axis", {drawn_mm(conductor)}});
  }
  return markup(
      {"Sizes of the coil",
       {"Quantity", "Value"},
       {{"", rows},
        {"As given", result.heater ? given_sizes(*result.heater) : std::vector<TableRow>{}}}});
}

StateRow ohms(const char* name, double CoilResult::*member) {
  return {name, [=](State s) { return shown(s.coil.*member, "ohm"); }};
}

StateRow henries(const char* name, double CoilResult::*member) {
  return {name, [=](State s) { return shown(s.coil.*member, "H"); }};
}

double reactance(State s) {
  return s.frequency.omega() * s.coil.inductance;
}

StateGroup resistance_parts() {
  return {"Series resistance",
          {ohms("Winding", &CoilResult::conductor_resistance),
           ohms("From the work", &CoilResult::reflected_resistance),
           ohms("Leads", &CoilResult::lead_resistance),
           {"Part turns",
            [](State s) {
              return s.coil.part_turn_resistance == 0.0 ? ""
                                                        : shown(s.coil.part_turn_resistance, "ohm");
            }},
           ohms("Together, at the terminals", &CoilResult::resistance),
           {"Winding, for direct current", [](State s) {
              return s.coil.dc_resistance ? shown(*s.coil.dc_resistance, "ohm") : "";
            }}}};
}

std::string electrical(const Result& result) {
  const StateGroup inductance = {"Inductance, loaded",
                                 {henries("Winding, as rings", &CoilResult::winding_inductance),
                                  henries("Helix correction", &CoilResult::helix_correction),
                                  henries("Leads", &CoilResult::lead_inductance),
                                  henries("Together, at the terminals", &CoilResult::inductance)}};
  const StateGroup derived = {
      "At this frequency",
      {{"Reactance", [](State s) { return shown(reactance(s), "ohm"); }},
       {"Reactive power in the coil",
        [](State s) {
          return shown(reactance(s) * s.drive.current_rms * s.drive.current_rms, "var");
        }},
       {"Q, reactance over resistance", [](State s) {
          return s.coil.resistance > 0.0 ? figure(reactance(s) / s.coil.resistance) : "";
        }}}};
  return state_table("Inductance and resistance", result.states,
                     {inductance, resistance_parts(), derived});
}

/// A bar for comparing the rows, beside the number.
std::string loss_cell(double loss, double largest) {
  const double share = largest > 0.0 ? std::max(0.0, loss / largest) : 0.0;
  return fmt::format(
      "{}<svg class=\"inline\" width=\"60\" height=\"10\" aria-hidden=\"true\"><rect "
      "width=\"{:.1f}\" height=\"10\"/></svg>",
      shown(loss, "W"), 60.0 * share);
}

std::string rings(const StateResult& state) {
  const auto& turns = state.coil.turns;
  if (turns.empty()) return "";
  const auto least =
      std::max_element(turns.begin(), turns.end(),
                       [](const TurnResult& a, const TurnResult& b) { return a.loss < b.loss; });
  PageTable table{fmt::format("Ring by ring, {}", state_words(state.name)),
                  {"Ring", "r", "z", "Turns", "Voltage, rms", "Current, rms", "Loss"},
                  {{}}};
  for (std::size_t i = 0; i < turns.size(); ++i) {
    const TurnResult& turn = turns[i];
    table.groups[0].rows.push_back({std::to_string(i + 1),
                                    {drawn_mm(turn.r), drawn_mm(turn.z), figure_short(turn.weight),
                                     shown(turn.voltage_rms, "V"), shown(turn.current_rms, "A"),
                                     loss_cell(turn.loss, least->loss)}});
  }
  return markup(table);
}

/// Further files for the same heater: a former to wind the coil on, the circuit.
std::string for_the_maker(const Result& result) {
  std::string text;
  if (coil_former(result.heater->coil))
    text += " A body to wind the coil on: <code>making/former.stl</code>.";
  if (netlist_state(result))
    text += " The heater as a circuit, for a simulator: <code>making/heater.cir</code>.";
  return text;
}

/// The coil as a workshop drawing.
std::string drawn(const Result& result) {
  if (!result.heater) return "";
  const std::string label = "Coil and workpiece in section, to scale, sizes in mm.";
  return fmt::format(
      "<figure id=\"coil-drawing\">\n<div class=\"scroll\">{}</div>\n<figcaption>{} At 1:1 for "
      "a former or a machine: <code>pictures/coil-template.svg</code>, "
      "<code>pictures/coil.dxf</code>.{}</figcaption>\n</figure>\n",
      inlined_drawing(svg_of(coil_drawing(result)), label), label, for_the_maker(result));
}

}  // namespace

PageSection coil_section(const Result& result) {
  const StateResult* state = leading_state(result);
  if (state == nullptr) return {};
  // Two states and their names still fit beside the sizes.
  const char* arranged = result.states.size() <= 2 ? "pair" : "column";
  return {"coil", "Coil",
          fmt::format("{}<div class=\"{}\">\n{}{}</div>\n{}", drawn(result), arranged,
                      sizes(result, state->coil), electrical(result),
                      chart_figure(rings_chart(result)) + rings(*state))};
}

}  // namespace cw
