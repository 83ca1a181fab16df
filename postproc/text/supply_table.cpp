#include "postproc/text/supply_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "materials/figures.hpp"
#include "postproc/result/write_tables.hpp"
#include "postproc/text/limit_words.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

namespace {

constexpr Layout note_layout{80, 2, 4};

std::string spaced_state(std::string words) {
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

std::string figure_or_dash(const std::optional<double>& value) {
  return value ? figure(*value) : "-";
}

const char* verdict_word(Verdict verdict) {
  return verdict == Verdict::stop ? "stop" : verdict == Verdict::watch ? "watch" : "ok";
}

std::string supply_row(const SupplyChoice& c) {
  const std::string volts = figure_short(c.voltage) + (c.own ? "*" : " ");
  if (!c.rings) return fmt::format("{:>7} no oscillation\n", volts);
  const std::string fuse = c.fuse ? figure_short(*c.fuse) : ">100";
  return fmt::format("{:>7}{:>7} {:<11.11}{:>7}{:>7}{:>7}{:>7}{:>6}{:>6}{:>7} {}\n", volts,
                     figure(c.demand), spaced_state(c.demand_state), figure_or_dash(c.work_cold),
                     figure_or_dash(c.work_at_target), figure(c.switch_voltage_peak),
                     figure(c.can_current_rms.value_or(c.bank_current_rms)),
                     figure(c.least_loaded_q), fuse, figure_or_dash(c.cable_loss),
                     verdict_word(c.nearest.verdict));
}

std::string first_to_give(const SupplyChoice& c) {
  const LimitResult& r = c.nearest;
  if (r.part.empty()) return "no rating was given to check against";
  std::string text = fmt::format("{}, {} ({}): {}", verdict_word(r.verdict), r.part,
                                 spaced_state(r.at_state), limit_words(r));
  if (r.verdict != Verdict::ok) text += ". " + r.advice;
  return text;
}

std::string exact(const std::optional<double>& value) {
  return value ? fmt::format("{}", *value) : "";
}

}  // namespace

std::optional<double> suggested_fuse(double demand) {
  constexpr std::array sizes{5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 80.0, 100.0};
  const auto* size = std::upper_bound(sizes.begin(), sizes.end(), 1.25 * demand);
  return size == sizes.end() ? std::nullopt : std::optional(*size);
}

std::string supply_text(const std::string& title, const std::vector<SupplyChoice>& choices) {
  const bool cans = std::all_of(choices.begin(), choices.end(), [](const SupplyChoice& c) {
    return !c.rings || c.can_current_rms;
  });
  std::string text = wrapped(title, {80, 0, 0}) + "\n";
  text += fmt::format("{:>7}{:>7} {:<11}{:>14}{:>7}{:>7}{:>6}{:>6}{:>7}\n", "Supply", "asked", "",
                      "work, W", "switch", cans ? "can" : "bank", "least", "fuse", "cable");
  text += fmt::format("{:>7}{:>7} {:<11}{:>7}{:>7}{:>7}{:>7}{:>6}{:>6}{:>7}\n", "V ", "A",
                      "in state", "cold", "target", "V peak", "A rms", "Q", "A", "W");
  for (const SupplyChoice& c : choices) text += supply_row(c);
  text += "\nFirst limit reached\n";
  for (const SupplyChoice& c : choices) {
    if (c.rings)
      text +=
          wrapped(fmt::format("{} V: {}", figure_short(c.voltage), first_to_give(c)), note_layout);
    if (c.silent.empty()) continue;
    const std::size_t more = c.silent.size() - 1;
    text +=
        wrapped(fmt::format("{} V: {}{}", figure_short(c.voltage), spaced_state(c.silent.front()),
                            more > 0 ? fmt::format(" The same in {} more.", more) : ""),
                note_layout);
  }
  return text + "\n" +
         wrapped(
             "* the supply of the case. Each supply is assumed to give the current demanded, "
             "without its limit and the fuse of the case. Fuse or breaker: next size above 1.25 "
             "times the largest demand; local code decides. Coarse mesh: use `run` for the voltage "
             "you choose.",
             {80, 0, 0});
}

std::string supply_table(const std::vector<SupplyChoice>& choices) {
  std::string table =
      "supply [V],own,rings,demand [A],demand state,work cold [W],work at target [W],switch peak "
      "[V],can current rms [A],bank current rms [A],least loaded Q,fuse [A],cable loss "
      "[W],verdict,part,quantity,value,limit,at state\n";
  for (const SupplyChoice& c : choices) {
    table += fmt::format("{},{},{}", c.voltage, c.own ? "yes" : "no", c.rings ? "yes" : "no");
    if (!c.rings) {
      table += std::string(16, ',') + "\n";
      continue;
    }
    table +=
        fmt::format(",{},{},{},{},{},{},{},{},{},{}", c.demand, c.demand_state, exact(c.work_cold),
                    exact(c.work_at_target), c.switch_voltage_peak, exact(c.can_current_rms),
                    c.bank_current_rms, c.least_loaded_q, exact(c.fuse), exact(c.cable_loss));
    table += fmt::format(",{},{},{},{},{},{}\n", verdict_word(c.nearest.verdict),
                         table_field(c.nearest.part), c.nearest.quantity, c.nearest.value,
                         exact(c.nearest.limit), c.nearest.at_state);
  }
  return table;
}

}  // namespace cw
