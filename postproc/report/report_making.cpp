#include <fmt/core.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "postproc/making/winding_plan.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"

namespace cw {

namespace {

/// The section of a conductor in words for the buyer.
std::string words_of(const SectionSizes& s, bool round) {
  if (s.strands)
    return fmt::format("{} insulated strands, {} over all", *s.strands, drawn_mm(s.radial));
  const std::string wall = s.wall ? "wall " + drawn_mm(*s.wall) : "";
  if (round)
    return s.wall ? fmt::format("round, {} outside, {}", drawn_mm(s.radial), wall)
                  : fmt::format("solid round, {}", drawn_mm(s.radial));
  return fmt::format("{} radial by {} axial, {}", drawn_mm(s.radial), drawn_mm(s.axial),
                     s.wall ? wall : "solid");
}

/// The largest over the states, 0 if no state has a value.
template <class Value>
double largest(const Result& result, Value value) {
  double most = 0.0;
  for (const StateResult& state : result.states) most = std::max(most, value(state));
  return most;
}

void add_bank(const Result& result, const Tank& tank, std::vector<TableRow>& rows) {
  const double current =
      largest(result, [](const auto& s) { return s.tank ? s.tank->capacitor_current_rms : 0.0; });
  const double volts =
      largest(result, [](const auto& s) { return s.tank ? s.tank->voltage_rms : 0.0; });
  const CanLimits limits = tank.can_limits.value_or(CanLimits{});
  rows.push_back(
      {"Capacitor cans",
       {tank.cans ? fmt::format("{} of {}, {}", *tank.cans, shown(tank.can_capacitance(), "F"),
                                wiring_of(tank))
                  : "number not given",
        fmt::format("{} in all; polypropylene film for AC", shown(tank.capacitance, "F"))}});
  if (current > 0.0)
    rows.push_back(
        {"Each can must stand",
         {fmt::format("{} rms, {} rms", shown(current / std::max(1, tank.strings()), "A"),
                      shown(volts / tank.cans_in_series, "V")),
          fmt::format(
              "at the working frequency; data sheet: {}, {}",
              limits.current ? shown(*limits.current, "A") + " rms" : "current not given",
              limits.voltage ? shown(*limits.voltage, "V") + " rms" : "voltage not given")}});
  if (tank.cans_in_series > 1)
    rows.push_back({"Cans in series",
                    {"one type, one batch",
                     "they share the voltage by their capacitance: one 5 % smaller than the other "
                     "stands 5 % more (series circuit)"}});
}

const char* at_limit(LimitKind kind) {
  switch (kind) {
    case LimitKind::fold:
      return "its voltage folds back";
    case LimitKind::trip:
      return "it trips";
    case LimitKind::hiccup:
      break;
  }
  return "it stops and tries again";
}

void add_switches(const Result& result, const DriveParts& drive, std::vector<TableRow>& rows) {
  const double peak =
      largest(result, [](const auto& s) { return s.tank ? s.tank->voltage_peak : 0.0; });
  const auto rating = drive.transistor->voltage_limit;
  rows.push_back({"Transistors",
                  {fmt::format("{}, above {} peak", drive.switches, shown(peak, "V")),
                   rating ? fmt::format("yours: {} peak", shown(*rating, "V"))
                          : "a margin of one half is common (common practice, no source)"}});
}

void add_chokes(const Choke& choke, std::vector<TableRow>& rows) {
  if (choke.count > 0)
    rows.push_back({"Feed chokes",
                    {fmt::format("{} of {}", choke.count, shown(choke.inductance, "H")),
                     choke.count == 1 ? "carries the whole supply current"
                                      : "each carries half of the supply current"}});
}

void add_supply(const Result& result, const DcSupply& drive, std::vector<TableRow>& rows) {
  const double demand =
      largest(result, [](const auto& s) { return s.supply ? s.supply->demand : 0.0; });
  rows.push_back({"Supply",
                  {fmt::format("{} DC", shown(drive.supply, "V")),
                   fmt::format("demand {} at most; {}", shown(demand, "A"),
                               drive.supply_limit ? fmt::format("gives {}, then {}",
                                                                shown(*drive.supply_limit, "A"),
                                                                at_limit(drive.limit_kind))
                                                  : "no limit given")}});
  if (drive.fuse) rows.push_back({"Fuse or breaker", {shown(*drive.fuse, "A"), "at the supply"}});
}

std::string steps_of(const Coil& coil, const WindingPlan& plan) {
  std::string text;
  const auto step = [&](const std::string& words) { text += fmt::format("<li>{}</li>\n", words); };
  const bool metal_tube = coil.conductor.wall().has_value();
  if (metal_tube)
    step(
        "Anneal the tube: dull red along its whole length, then let it cool. Fill it with dry fine "
        "sand and close both ends, so that it does not flatten in the bend. Empty it afterwards "
        "and blow it through. (Common practice, no source.)");
  if (plan.former_diameter)
    step(fmt::format(
        "Wind on a former of {} diameter{}. Wind one trial turn and measure its bore before the "
        "rest.",
        shown_mm(*plan.former_diameter),
        plan.spring_back ? fmt::format(": the tube springs open by {} of its mean diameter, to the "
                                       "bore of {} (estimated from plastic bending of soft copper)",
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
                     plan.bend_radius < coil.conductor.least_bend()
                         ? "<strong class=\"watch\">Too tight even for a filled tube</strong>: it "
                           "will crease. Take a thinner tube or a larger bore."
                     : plan.bend_ratio < least_bend_by_hand
                         ? "Fill the tube; by hand and empty it would crease."
                         : "It can be bent by hand; a filling keeps it round.") +
         fmt::format(
             " (Common practice, no source: not below {} times, filled, or {} times, empty.)",
             figure_short(coil.conductor.least_bend() / coil.conductor.radial_size()),
             figure_short(least_bend_by_hand)));
  if (coil.shape == CoilShape::helix || coil.shape == CoilShape::cone)
    step(fmt::format(
        "The ends leave {}, seen along the axis, {} apart along it.{}",
        plan.lead_angle == 0.0 ? std::string("on the same side")
                               : figure_short(plan.lead_angle) + "\u00b0 from each other",
        drawn_mm(coil.turns * coil.pitch),
        coil.leads ? fmt::format(" Run them {} side by side, {} from centre to centre: closer is "
                                 "better, with insulation between.",
                                 drawn_mm(coil.leads->length), drawn_mm(coil.leads->spacing))
                   : std::string()));
  return fmt::format("<ol class=\"steps\">\n{}</ol>\n", text);
}

}  // namespace

std::string wiring_of(const Tank& tank) {
  if (tank.cans_in_series == 1) return "in parallel";
  return tank.strings() == 1
             ? "in series"
             : fmt::format("as {} strings of {} in series", tank.strings(), tank.cans_in_series);
}

std::string conductor_words(const Conductor& c) {
  return fmt::format("{}, {}", escaped(c.material.name), words_of(c.sizes(), c.is_round()));
}

PageSection parts_section(const Result& result) {
  if (!result.heater) return {};
  const Heater& heater = *result.heater;
  const Coil& coil = heater.coil;
  const WindingPlan plan = winding_plan(coil);
  std::vector<TableRow> rows = {
      {"Conductor of the coil",
       {shown_distance(plan.length_to_buy),
        fmt::format("{}; winding {}, leads {}, and {} for bends, cuts and hose ends (a tenth and "
                    "150 mm at each end: common practice, no source)",
                    conductor_words(coil.conductor), shown_distance(plan.winding_length),
                    shown_distance(plan.leads_length), shown_distance(plan.allowance))}}};
  if (heater.tank) add_bank(result, *heater.tank, rows);
  const DriveParts drive = drive_parts(heater.drive);
  if (drive.transistor != nullptr) add_switches(result, drive, rows);
  if (drive.choke != nullptr) add_chokes(*drive.choke, rows);
  if (drive.supply != nullptr) add_supply(result, *drive.supply, rows);
  if (coil.coolant)
    rows.push_back({"Water",
                    {fmt::format("{} L/min", figure(6e4 * coil.coolant->flow)),
                     fmt::format("at {} in; hose, pump, flow switch, leak tray",
                                 shown_celsius(coil.coolant->inlet))}});
  return {"parts", "Parts to buy",
          markup({"Parts to buy", {"Part", "How much", "Requirement"}, {{"", rows}}})};
}

PageSection winding_section(const Result& result) {
  if (!result.heater || result.heater->coil.shape == CoilShape::rings) return {};
  const Coil& coil = result.heater->coil;
  return {"winding", "How to wind it", steps_of(coil, winding_plan(coil))};
}

}  // namespace cw
