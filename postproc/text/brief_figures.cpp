#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <numbers>

#include "materials/figures.hpp"
#include "postproc/text/brief.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

namespace {

std::string brief_row(const std::string& label, const std::string& value,
                      const std::string& note = "") {
  std::string line = fmt::format("  {:<25} {:>9}  {}", label, value, note);
  while (line.ends_with(' ')) line.pop_back();
  return cut_line(line, 80);
}

std::string celsius_words(double kelvin) {
  return figure(kelvin - zero_celsius) + " degC";
}

/// The state of a figure in words; empty if there is only one.
std::string when(const StateResult& state) {
  if (state.name == "fixed_frequency") return "";
  if (state.name == "peak_demand") return "at peak demand";
  if (state.name == "past_curie") return "past Curie";
  return state.name == "at_target" ? "at target" : state.name;
}

std::string joined_notes(const std::string& first, const std::string& second) {
  return first.empty() || second.empty() ? first + second : first + ", " + second;
}

/// The states of a result that the heater reaches, and which of them to show.
class BriefStates {
 public:
  explicit BriefStates(const Result& result) {
    for (const StateResult& state : result.states)
      if (state.met) met_.push_back(&state);
    for (const StateResult* state : met_) {
      if (!state->workpiece_temperature) continue;
      if (cold_ == nullptr) cold_ = state;
      hot_ = state;
    }
    if (cold_ == nullptr && !met_.empty()) cold_ = hot_ = met_.front();
  }

  [[nodiscard]] bool empty() const { return met_.empty(); }
  /// The state at the start.
  [[nodiscard]] const StateResult& cold() const { return *cold_; }

  using Figure = std::function<double(const StateResult&)>;
  [[nodiscard]] const StateResult& most(const Figure& of) const {
    return **std::ranges::max_element(met_, {}, [&](const StateResult* s) { return of(*s); });
  }

  /// A figure with the work cold; the note gives it with the work hot.
  [[nodiscard]] std::string row(const std::string& label, const std::string& note,
                                const std::function<std::string(const StateResult&)>& of) const {
    const std::string first = of(*cold_), last = of(*hot_);
    std::string states = when(*cold_);
    if (last != first) states += fmt::format("; {} {}", last, when(*hot_));
    return brief_row(label, first, joined_notes(note, states));
  }

 private:
  std::vector<const StateResult*> met_;
  const StateResult *cold_ = nullptr, *hot_ = nullptr;
};

void add_heating(const HeatResult& heat, std::vector<std::string>& rows) {
  if (heat.time_to_target && heat.target)
    rows.push_back(
        brief_row("time to target", figure(*heat.time_to_target, "s"),
                  fmt::format("{} {}", celsius_words(heat.target->kelvin), target_place(heat))));
  if (heat.lines.empty()) return;
  const HeatLine& last = heat.lines.back();
  if (!heat.time_to_target)
    rows.push_back(brief_row("temperature after " + figure(last.time, "s"),
                             celsius_words(heat.reading ? heat.reading->kelvin : last.at_target),
                             target_place(heat)));
  double hottest = last.hottest;
  for (const HeatedBody& body : heat.bodies) hottest = std::max(hottest, body.at_end.hottest);
  rows.push_back(
      brief_row("hottest place", celsius_words(hottest),
                fmt::format("surface {}, centre {} at the end", figure(last.surface - zero_celsius),
                            figure(last.centre - zero_celsius))));
}

void add_supply_current(const BriefStates& states, const std::optional<HeatResult>& heat,
                        std::vector<std::string>& rows) {
  const auto demand = [](const StateResult& s) { return s.supply ? s.supply->demand : 0.0; };
  const StateResult& most = states.most(demand);
  if (!most.supply) return;
  const SupplyResult& supply = *most.supply;
  const double heating = heat ? greatest_demand(*heat) : 0.0;
  const bool harder = heating > supply.demand;
  rows.push_back(brief_row(
      "supply current", figure(supply.current, "A"),
      supply.limited ? joined_notes(fmt::format("limited; demand {}",
                                                figure(std::max(supply.demand, heating), "A")),
                                    harder ? "while heating" : when(most))
                     : joined_notes(fmt::format("at {}: {}", figure(supply.voltage, "V"),
                                                figure(supply.power, "W")),
                                    when(most))));
}

void add_currents_and_voltages(const BriefStates& states, std::vector<std::string>& rows) {
  const StateResult& current =
      states.most([](const StateResult& s) { return s.drive.current_rms; });
  rows.push_back(brief_row(
      "coil current", figure(current.drive.current_rms, "A"),
      joined_notes(
          fmt::format("rms, {} peak", figure(current.drive.current_rms * std::numbers::sqrt2, "A")),
          when(current))));
  const auto across = [](const StateResult& s) {
    return s.tank ? s.tank->voltage_rms : s.drive.voltage_rms;
  };
  const StateResult& high = states.most(across);
  const double peak =
      high.tank ? high.tank->voltage_peak : high.drive.voltage_rms * std::numbers::sqrt2;
  rows.push_back(
      brief_row(high.tank ? "tank voltage" : "voltage on coil and leads", figure(across(high), "V"),
                joined_notes(fmt::format("rms, {} peak", figure(peak, "V")), when(high))));
}

void add_capacitors(const BriefStates& states, std::vector<std::string>& rows) {
  const auto current = [](const StateResult& s) {
    return s.tank ? s.tank->capacitor_current_rms : 0.0;
  };
  const StateResult& most = states.most(current);
  if (most.tank)
    rows.push_back(brief_row("capacitor current", figure(current(most), "A"),
                             joined_notes("rms, whole bank", when(most))));
}

void add_powers(const BriefStates& states, std::vector<std::string>& rows) {
  if (states.cold().power.workpiece || !states.cold().power.bodies.empty())
    rows.push_back(states.row("power into the work", "", [](const StateResult& s) {
      double watts = s.power.workpiece.value_or(0.0);
      for (const auto& [name, body] : s.power.bodies) watts += body;
      return figure(watts, "W");
    }));
  if (states.cold().efficiency)
    rows.push_back(states.row("efficiency", "into the work", [](const StateResult& s) {
      return percent(s.efficiency.value_or(0.0));
    }));
  rows.push_back(states.row("loss in coil and leads", "", [](const StateResult& s) {
    return figure(s.power.coil + s.power.leads + s.power.joints.value_or(0.0), "W");
  }));
}

void add_cooling(const CoolingResult& cooling, std::vector<std::string>& rows) {
  if (cooling.water) {
    rows.push_back(brief_row("water at the outlet", celsius_words(cooling.water->outlet.kelvin),
                             fmt::format("{} L/min, in at {}", figure(cooling.water->flow * 60e3),
                                         celsius_words(cooling.water->inlet.kelvin))));
  } else if (cooling.air && cooling.air->first_on) {
    rows.push_back(brief_row(
        "coil may stay on", figure(*cooling.air->first_on, "s"),
        fmt::format("without water, up to {}", celsius_words(cooling.air->limit.kelvin))));
  } else if (cooling.air && cooling.air->settles) {
    rows.push_back(
        brief_row("coil settles at", celsius_words(cooling.air->settles->kelvin), "without water"));
  }
}

void add_terminals(const BriefStates& states, std::vector<std::string>& rows) {
  if (states.cold().tank)
    rows.push_back(
        states.row("loaded Q", "", [](const StateResult& s) { return figure(s.tank->loaded_q); }));
  rows.push_back(states.row("inductance", "with leads",
                            [](const StateResult& s) { return figure(s.coil.inductance, "H"); }));
  rows.push_back(states.row("series resistance", "",
                            [](const StateResult& s) { return figure(s.coil.resistance, "ohm"); }));
  if (states.cold().skin_depth)
    rows.push_back(states.row("skin depth in the work", "", [](const StateResult& s) {
      return figure(1e3 * s.skin_depth.value_or(0.0)) + " mm";
    }));
}

}  // namespace

std::vector<std::string> brief_figures(const Result& result) {
  std::vector<std::string> rows;
  if (result.heat) add_heating(*result.heat, rows);
  const BriefStates states(result);
  if (states.empty()) return rows;
  rows.push_back(states.row("frequency", "",
                            [](const StateResult& s) { return figure(s.frequency.hertz, "Hz"); }));
  add_supply_current(states, result.heat, rows);
  add_currents_and_voltages(states, rows);
  if (!result.heat) add_capacitors(states, rows);
  add_powers(states, rows);
  if (result.cooling) add_cooling(*result.cooling, rows);
  add_terminals(states, rows);
  constexpr std::size_t wanted = 10;
  rows.resize(std::min(rows.size(), wanted));
  return rows;
}

}  // namespace cw
