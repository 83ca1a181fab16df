#include "postproc/text/heat_advice.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "materials/figures.hpp"

namespace cw {

namespace {

std::string degrees(double kelvin) {
  return fmt::format("{} degC", figure(kelvin - zero_celsius));
}

std::string kelvins(double difference) {
  return fmt::format("{:.0f} K", std::abs(difference));
}

/// What the target is compared with.
double reading(const HeatLine& line, const std::string& at) {
  if (at == "surface") return line.surface;
  if (at == "centre") return line.centre;
  return at == "mean" ? line.mean : line.coldest;
}

/// Never reached, however long it is left in.
bool stalls(const HeatResult& heat) {
  return !heat.reached && heat.target && heat.stall && *heat.stall < *heat.target;
}

/// Mean rise over the last fifth of the run [K/s].
double late_rise(const HeatResult& heat) {
  const HeatLine& last = heat.lines.back();
  const auto from = std::find_if(heat.lines.begin(), heat.lines.end(),
                                 [&](const HeatLine& l) { return l.time >= 0.8 * last.time; });
  if (from == heat.lines.end() || from->time >= last.time) return 0.0;
  return (reading(last, heat.target_at) - reading(*from, heat.target_at)) /
         (last.time - from->time);
}

/// How much more is lost at the target than where the heating stops: fourth powers against
/// surroundings of 20 degC, by the Stefan-Boltzmann law. Convection grows more slowly, so this errs
/// to the high side.
double growth_of_loss(const HeatResult& heat) {
  const auto radiated = [](double kelvin) {
    return std::pow(kelvin, 4) - std::pow(20.0 + zero_celsius, 4);
  };
  return radiated(heat.target->kelvin) / std::max(radiated(heat.stall->kelvin), 1.0);
}

/// The voltage or current that would hold the target, as a sentence. Power goes with its square at
/// the same coil, work and tank (ideal current-fed pair, P = V^2 / R_p; closed form, from memory).
std::string more_drive(const Result& result, double ratio) {
  const double factor = std::sqrt(std::max(ratio, 1.0)) * 1.05;
  if (const PushPullDrive* drive = push_pull_of(result)) {
    const double volts = drive->supply;
    return fmt::format(
        "Raise the supply from {} to at least some {:.0f} V (rough estimate: power grows with the "
        "square of the voltage). Tank voltage and current grow with it, so look at the limits "
        "again; `coilwright supply` tries the usual voltages.",
        figure(volts, "V"), std::ceil(factor * volts));
  }
  if (result.states.empty()) return "";
  const double amps = result.states.front().drive.current_rms;
  return fmt::format(
      "Raise the coil current from {} to at least some {} rms (rough estimate: power grows with "
      "the square of the current), as far as coil and source stand it.",
      figure(amps, "A"), figure(factor * amps, "A"));
}

std::string closer(const Result& result) {
  if (!result.heater || !result.heater->workpiece) return "";
  const double gap =
      result.heater->coil.bore / 2 - extent_of(result.heater->workpiece->outline).outer;
  if (gap < 2e-3) return "";
  return fmt::format(
      "Bring the coil closer: {} mm lie between work and turns, and no other size changes the "
      "power so much.",
      millimetres(gap));
}

std::vector<std::string> against_a_stall(const Result& result) {
  const HeatResult& heat = *result.heat;
  if (heat.lines.empty()) return {};
  const HeatLine& last = heat.lines.back();
  const double growth = growth_of_loss(heat);
  std::vector<std::string> advice{
      fmt::format("After {}, {} go into the work and {} are lost from it. The hotter it gets the "
                  "more it loses: at {} both are equal. To hold {} some {:.0f} % more power would "
                  "have to go in.",
                  figure(last.time, "s"), figure(last.work_W, "W"), figure(last.lost_W, "W"),
                  degrees(heat.stall->kelvin), degrees(heat.target->kelvin), 100 * (growth - 1)),
      more_drive(result, growth), closer(result),
      "Keep the heat in: wrap the hot stretch in ceramic fibre, or heat a shorter one."};
  if (result.heater && result.heater->tank)
    advice.emplace_back(
        "More capacitance with the same coil raises tank current and power in about the same "
        "proportion, as far as the cans and the supply stand it.");
  return advice;
}

}  // namespace

std::string heat_verdict_words(const Result& result) {
  if (!result.heat) return "";
  const HeatResult& heat = *result.heat;
  if (!heat.target) return "";
  const std::string wanted =
      fmt::format("the {} wanted ({})", degrees(heat.target->kelvin), heat.target_at);
  if (heat.reached && heat.time_to_target)
    return fmt::format("Yes: {} are reached after {}.", wanted, figure(*heat.time_to_target, "s"));
  if (stalls(heat))
    return fmt::format("No: heating stops at {}, {} short of {}, however long it is left in.",
                       degrees(heat.stall->kelvin),
                       kelvins(heat.target->kelvin - heat.stall->kelvin), wanted);
  if (heat.lines.empty()) return fmt::format("No: {} are not reached.", wanted);
  const HeatLine& last = heat.lines.back();
  return fmt::format("{}: after {} it is at {}, {} short of {}.",
                     heat.ended == "interrupted" ? "Not known: the run was stopped"
                     : heat.ended == "supply"    ? "No: the supply switches off"
                                                 : "Not in the time given",
                     figure(last.time, "s"), degrees(reading(last, heat.target_at)),
                     kelvins(heat.target->kelvin - reading(last, heat.target_at)), wanted);
}

std::vector<std::string> heat_advice(const Result& result) {
  if (!result.heat || result.heat->reached || !result.heat->target) return {};
  const HeatResult& heat = *result.heat;
  std::vector<std::string> advice;
  if (stalls(heat)) {
    advice = against_a_stall(result);
  } else if (heat.ended == "time" && !heat.lines.empty() && late_rise(heat) > 0.0) {
    advice = {fmt::format("It was still rising by {} K/s at the end: give it more time (`until`).",
                          figure(late_rise(heat))),
              closer(result)};
  } else if (heat.ended == "supply") {
    advice = {
        "The load asks for more than the supply can give, and it does not come back by itself: "
        "see the demand in the chart of the supply current. Open the gap, take less capacitance, "
        "or take a supply that folds back."};
  }
  std::erase(advice, "");
  return advice;
}

}  // namespace cw
