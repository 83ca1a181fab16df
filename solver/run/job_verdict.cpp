#include "solver/run/job_verdict.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "materials/figures.hpp"

namespace cw {

namespace {

/// Share of the power that reaches the work below which coupling counts as poor: common practice,
/// no source.
constexpr double poor_coupling = 0.5;

std::string degrees(double kelvin) {
  return fmt::format("{} degC", figure(kelvin - zero_celsius));
}

/// "820 degC at the coldest place of the charge"
std::string goal_of(const HeatResult& heat) {
  return fmt::format("{} {}", degrees(heat.target->kelvin), target_place(heat));
}

bool stalls(const HeatResult& heat) {
  return !heat.reached && heat.stall && *heat.stall < *heat.target;
}

bool folds(const HeatLine& line) {
  return line.demand && line.supply_current && *line.demand > 1.001 * *line.supply_current;
}

/// Share of the heating in which the supply folds back.
double share_folded(const HeatResult& heat) {
  double folded = 0.0;
  for (std::size_t i = 1; i < heat.lines.size(); ++i)
    if (folds(heat.lines[i])) folded += heat.lines[i].time - heat.lines[i - 1].time;
  return heat.lines.empty() || heat.lines.back().time <= 0.0 ? 0.0
                                                             : folded / heat.lines.back().time;
}

std::vector<const LimitResult*> passed_limits(const Result& result) {
  std::vector<const LimitResult*> all;
  for (const LimitResult& limit : result.limits)
    if (limit.verdict == Verdict::stop) all.push_back(&limit);
  return all;
}

Answer answer_of(const Result& result) {
  const HeatResult& heat = *result.heat;
  if (heat.ended == "interrupted") return Answer::unknown;
  if (!heat.reached) return Answer::no;
  if (!passed_limits(result).empty()) return Answer::past_limits;
  return std::ranges::any_of(heat.lines, folds) ? Answer::at_supply_limit : Answer::yes;
}

/// What is wrong, for limits that a percentage alone does not explain; else empty.
std::string past(const LimitResult& limit) {
  if (limit.quantity == "loaded_q")
    return fmt::format("the drive may not start (loaded Q {})", figure(limit.value));
  if (limit.quantity == "hottest_K")
    return fmt::format("the {} reaches {} somewhere, above its limit of {}", limit.part,
                       degrees(limit.value), degrees(limit.limit.value_or(0.0)));
  return "";
}

/// "capacitor can (131 %)"
std::string with_share(const LimitResult& limit) {
  return limit.fraction ? fmt::format("{} ({})", limit.part, percent(*limit.fraction)) : limit.part;
}

/// "the drive may not start (loaded Q 2.50); past its limit: capacitor can (131 %); and 2 more"
std::string parts_past(const std::vector<const LimitResult*>& all) {
  constexpr std::size_t most = 2;
  std::vector<std::string> told;
  std::size_t shares = 0;
  for (std::size_t i = 0; i < std::min(all.size(), most); ++i) {
    const std::string words = past(*all[i]);
    if (!words.empty())
      told.push_back(words);
    else
      told.push_back((shares++ == 0 ? "past its limit: " : "") + with_share(*all[i]));
  }
  std::string text = fmt::format("{}", fmt::join(told, "; "));
  if (shares > 1) text.replace(text.find("past its limit"), 14, "past their limits");
  return all.size() <= most ? text : fmt::format("{}; and {} more", text, all.size() - most);
}

std::string after(const HeatResult& heat) {
  return heat.time_to_target
             ? fmt::format("{} after {}", goal_of(heat), figure(*heat.time_to_target, "s"))
             : goal_of(heat);
}

std::string short_of(const HeatResult& heat, double kelvin) {
  return fmt::format("{}, {:.0f} K short of {}", degrees(kelvin),
                     std::abs(heat.target->kelvin - kelvin), goal_of(heat));
}

/// Time until the hardened depth becomes too large, for a part hardened to a depth.
std::string window(const HeatResult& heat) {
  if (!heat.hardening || !heat.hardening->too_hot || !heat.time_to_target) return "";
  return fmt::format(" Switch off within {}: after {} the surface is too hot.",
                     figure(*heat.hardening->too_hot - *heat.time_to_target, "s"),
                     figure(*heat.hardening->too_hot, "s"));
}

std::string sentence(const Result& result, Answer answer) {
  const HeatResult& heat = *result.heat;
  switch (answer) {
    case Answer::yes:
      return fmt::format("Yes: {}.{}", after(heat), window(heat));
    case Answer::at_supply_limit:
      return fmt::format("Yes, with the supply at its limit: {}.{}", after(heat), window(heat));
    case Answer::past_limits:
      return fmt::format("Not as designed: {}, but {}.", after(heat),
                         parts_past(passed_limits(result)));
    case Answer::no:
    case Answer::unknown:
      break;
  }
  if (stalls(heat) && answer == Answer::no)
    return fmt::format("No: the temperature settles at {}, however long it heats.",
                       short_of(heat, heat.stall->kelvin));
  if (heat.lines.empty()) return fmt::format("No: {} is not reached.", goal_of(heat));
  const HeatLine& last = heat.lines.back();
  if (heat.ended == "supply" && !(last.time > 0.0))
    return fmt::format("No, the supply switches off at once: it is at {}.",
                       short_of(heat, last.at_target));
  return fmt::format("{}: after {} it is at {}.",
                     answer == Answer::unknown ? "Not known: the run was stopped"
                     : heat.ended == "supply"  ? "No, the supply switches off"
                                               : "Not in the time given",
                     figure(last.time, "s"), short_of(heat, last.at_target));
}

/// The line in which the load demands most.
const HeatLine& hardest(const HeatResult& heat) {
  return *std::ranges::max_element(heat.lines, {},
                                   [](const HeatLine& l) { return l.demand.value_or(0.0); });
}

Bottleneck bottleneck_of(const Result& result, Answer answer) {
  const HeatResult& heat = *result.heat;
  constexpr double much = 0.2;  // of the time
  if (answer == Answer::past_limits)
    return passed_limits(result).front()->quantity == "loaded_q" ? Bottleneck::loaded_q
                                                                 : Bottleneck::part;
  if (answer == Answer::at_supply_limit) return Bottleneck::supply_folds;
  if (answer != Answer::no || heat.lines.empty()) return Bottleneck::none;
  const HeatLine& last = heat.lines.back();
  if (heat.ended == "supply") return Bottleneck::supply_trips;
  if (folds(last) || share_folded(heat) > much) return Bottleneck::supply_folds;
  if (last.work_W < poor_coupling * last.total_W) return Bottleneck::coupling;
  return stalls(heat) ? Bottleneck::losses : Bottleneck::time;
}

std::string why(const Result& result, Bottleneck bottleneck) {
  const HeatResult& heat = *result.heat;
  if (heat.lines.empty()) return "";
  const HeatLine &last = heat.lines.back(), &most = hardest(heat);
  switch (bottleneck) {
    case Bottleneck::supply_folds:
      return fmt::format(
          "The load asks for {}, the supply gives {}: its voltage folds back for {} of the time.",
          figure(most.demand.value_or(0.0), "A"), figure(most.supply_current.value_or(0.0), "A"),
          percent(share_folded(heat)));
    case Bottleneck::supply_trips:
      return fmt::format("The load asks for {}, more than the supply can give.",
                         figure(most.demand.value_or(0.0), "A"));
    case Bottleneck::coupling:
      return fmt::format(
          "Of {} at the end, {} heats the work; the rest is lost in coil and circuit.",
          figure(last.total_W, "W"), figure(last.work_W, "W"));
    case Bottleneck::losses:
      return fmt::format(
          "After {}, {} goes into the work and {} is lost from it: at {} both are equal.",
          figure(last.time, "s"), figure(last.work_W, "W"), figure(last.lost_W, "W"),
          degrees(heat.stall->kelvin));
    case Bottleneck::time:
      return fmt::format("The temperature still rises after {}.", figure(last.time, "s"));
    case Bottleneck::loaded_q:
      return "The work damps the tank so much that the oscillation may not start.";
    case Bottleneck::part:
    case Bottleneck::none:
      break;
  }
  return "";
}

std::string first_out(const Result& result) {
  const LimitResult* part = nearest_part(result);
  if (part == nullptr) return "";
  constexpr double worth_a_word = 0.5;
  if (*part->fraction < worth_a_word) return "every part stays below half of its limit";
  return fmt::format("most loaded part, at {} of its limit: {}", percent(*part->fraction),
                     part->part);
}

}  // namespace

const LimitResult* nearest_part(const Result& result) {
  const auto part = std::ranges::find_if(result.limits, [](const LimitResult& limit) {
    if (!limit.fraction) return false;
    const bool folds =
        limit.quantity == "demand_A" && limit.verdict != Verdict::stop && *limit.fraction >= 1.0;
    return !folds && limit.quantity != "loaded_q" && limit.quantity != "hottest_K" &&
           limit.quantity != "gate_time_over_half_period";
  });
  return part == result.limits.end() ? nullptr : &*part;
}

double end_of_heating(const HeatResult& heat) {
  if (stalls(heat)) return heat.stall->kelvin;
  return heat.lines.empty() ? 0.0 : heat.lines.back().at_target;
}

JobVerdict job_verdict(const Result& result) {
  JobVerdict v;
  v.answer = answer_of(result);
  v.bottleneck = bottleneck_of(result, v.answer);
  v.sentence = sentence(result, v.answer);
  v.why = why(result, v.bottleneck);
  v.first_out = first_out(result);
  return v;
}

}  // namespace cw
