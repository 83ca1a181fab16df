#include <fmt/core.h>

#include <algorithm>

#include "postproc/making/winding_plan.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/text/figures.hpp"

namespace cw {

namespace {

/// "copper-tube, round, 6.00 mm outside, wall 1.00 mm"
std::string conductor_words(const ConductorDesign& c) {
  const std::string material = escaped(c.material);
  if (c.kind == "tube")
    return fmt::format("{}, round, {} outside, wall {}", material, drawn_mm(c.radial),
                       drawn_mm(c.wall.value_or(0.0)));
  if (c.kind == "bar")
    return fmt::format("{}, {} radial by {} axial{}", material, drawn_mm(c.radial),
                       drawn_mm(c.axial), c.wall ? ", wall " + drawn_mm(*c.wall) : ", solid");
  if (c.kind == "strands")
    return fmt::format("{}, {} insulated strands, {} over all", material, c.strands.value_or(0),
                       drawn_mm(c.radial));
  return fmt::format("{}, solid round, {}", material, drawn_mm(c.radial));
}

/// The largest over the states, 0 where no state has it.
template <class Value>
double largest(const Result& result, Value value) {
  double most = 0.0;
  for (const StateResult& state : result.states) most = std::max(most, value(state));
  return most;
}

void add_bank(const Result& result, const BankDesign& bank, std::vector<TableRow>& rows) {
  const double current =
      largest(result, [](const auto& s) { return s.tank ? s.tank->capacitor_current_rms : 0.0; });
  const double volts =
      largest(result, [](const auto& s) { return s.tank ? s.tank->voltage_rms : 0.0; });
  const double cans = bank.cans.value_or(1);
  rows.push_back(
      {"Capacitor cans",
       {bank.cans
            ? fmt::format("{} of {}, in parallel", *bank.cans, shown(bank.capacitance / cans, "F"))
            : "number not given",
        fmt::format("{} in all; polypropylene film for AC", shown(bank.capacitance, "F"))}});
  if (current > 0.0)
    rows.push_back(
        {"Each can must stand",
         {fmt::format("{} rms, {} rms", shown(current / cans, "A"), shown(volts, "V")),
          fmt::format(
              "at the working frequency; data sheet: {}, {}",
              bank.can_current ? shown(*bank.can_current, "A") + " rms" : "current not given",
              bank.can_voltage ? shown(*bank.can_voltage, "V") + " rms" : "voltage not given")}});
}

void add_drive(const Result& result, const SupplyDesign& supply, std::vector<TableRow>& rows) {
  const double peak =
      largest(result, [](const auto& s) { return s.tank ? s.tank->voltage_peak : 0.0; });
  rows.push_back({"Transistors",
                  {fmt::format("2, above {} peak", shown(peak, "V")),
                   supply.switch_voltage
                       ? fmt::format("yours: {} peak", shown(*supply.switch_voltage, "V"))
                       : "half as much again is a common margin (common practice, no source)"}});
  if (supply.chokes > 0)
    rows.push_back({"Feed chokes",
                    {fmt::format("{} of {}", supply.chokes, shown(supply.choke_inductance, "H")),
                     supply.chokes == 1 ? "carries all of the supply current"
                                        : "each carries half of the supply current"}});
  const double demand =
      largest(result, [](const auto& s) { return s.supply ? s.supply->demand : 0.0; });
  rows.push_back(
      {"Supply",
       {fmt::format("{} DC", shown(supply.voltage, "V")),
        fmt::format("asked for {} at most; {}", shown(demand, "A"),
                    supply.limit
                        ? fmt::format("gives {}, then {}", shown(*supply.limit, "A"),
                                      supply.limit_kind == "fold"   ? "its voltage folds back"
                                      : supply.limit_kind == "trip" ? "it trips"
                                                                    : "it stops and tries again")
                        : "no limit given")}});
  if (supply.fuse) rows.push_back({"Fuse or breaker", {shown(*supply.fuse, "A"), "at the supply"}});
}

std::string steps_of(const CoilDesign& coil, const WindingPlan& plan) {
  std::string text;
  const auto step = [&](const std::string& words) { text += fmt::format("<li>{}</li>\n", words); };
  const bool metal_tube = coil.conductor.kind == "tube" || coil.conductor.wall;
  if (metal_tube)
    step(
        "Anneal the tube: dull red along its whole length, then let it cool. Fill it with dry fine "
        "sand and close both ends, so that the bend does not flatten it; empty it afterwards and "
        "blow "
        "it through. (Common practice, no source.)");
  if (plan.former_diameter)
    step(fmt::format(
        "Wind on a former of {} diameter{}. Wind one trial turn and measure its bore before the "
        "rest.",
        shown_mm(*plan.former_diameter),
        plan.spring_back
            ? fmt::format(": the tube springs open by {} of its mean diameter, to the bore of {} "
                          "(estimated from plastic bending of soft copper)",
                          shown_percent(*plan.spring_back), drawn_mm(coil.bore))
            : std::string()));
  step(fmt::format("{} turns, {} from turn to turn.", figure_short(coil.turns),
                   drawn_mm(coil.pitch)));
  if (plan.spacer)
    step(
        fmt::format("Keep a spacer of {} between neighbouring turns while winding and set the gaps "
                    "with it afterwards.",
                    drawn_mm(*plan.spacer)));
  if (metal_tube)
    step(fmt::format("The tightest bend has a mean radius of {}, {} times the tube. {}",
                     shown_mm(plan.bend_radius), figure_short(plan.bend_ratio),
                     plan.bend_ratio < least_bend_filled
                         ? "<strong class=\"watch\">Tighter than a filled tube takes</strong>: it "
                           "will crease. "
                           "Take a thinner tube or a larger bore."
                     : plan.bend_ratio < least_bend_by_hand
                         ? "Fill the tube; by hand and empty it would crease."
                         : "It bends by hand; filling keeps it round.") +
         fmt::format(
             " (Common practice, no source: not below {} times, filled, or {} times, empty.)",
             figure_short(least_bend_filled), figure_short(least_bend_by_hand)));
  if (coil.shape == "helix" || coil.shape == "cone")
    step(fmt::format(
        "The ends leave {}, seen along the axis, {} apart along it.{}",
        plan.lead_angle == 0.0 ? std::string("on the same side")
                               : figure_short(plan.lead_angle) + "\u00b0 from each other",
        drawn_mm(coil.turns * coil.pitch),
        coil.lead_length
            ? fmt::format(
                  " Bring them together and run them {} side by side, {} between their middles: "
                  "closer is better, with insulation between.",
                  drawn_mm(*coil.lead_length), drawn_mm(coil.lead_spacing.value_or(0.0)))
            : std::string()));
  return fmt::format("<ol class=\"steps\">\n{}</ol>\n", text);
}

}  // namespace

PageSection parts_section(const Result& result) {
  if (!result.design) return {};
  const CoilDesign& coil = result.design->coil;
  const WindingPlan plan = winding_plan(coil);
  std::vector<TableRow> rows = {
      {"Conductor of the coil",
       {shown(plan.length_to_buy, "m"),
        fmt::format("{}; winding {}, leads {}, and {} for bends, cuts and hose ends (a tenth and "
                    "150 mm at each end: common practice, no source)",
                    conductor_words(coil.conductor), shown(coil.conductor_length, "m"),
                    shown(plan.leads_length, "m"), shown(plan.allowance, "m"))}}};
  if (result.design->bank) add_bank(result, *result.design->bank, rows);
  if (result.design->supply) add_drive(result, *result.design->supply, rows);
  if (coil.coolant_flow)
    rows.push_back(
        {"Water",
         {fmt::format("{} l/min", figure(6e4 * *coil.coolant_flow)),
          coil.coolant_inlet ? fmt::format("at {} in; hose, pump, flow switch, leak tray",
                                           shown_celsius(*coil.coolant_inlet))
                             : "hose, pump, flow switch, leak tray"}});
  return {"parts", "Parts to buy",
          markup({"Parts to buy", {"Part", "How much", "What it must do"}, {{"", rows}}})};
}

PageSection winding_section(const Result& result) {
  if (!result.design || result.design->coil.shape == "rings") return {};
  const CoilDesign& coil = result.design->coil;
  return {"winding", "How to wind it", steps_of(coil, winding_plan(coil))};
}

}  // namespace cw
