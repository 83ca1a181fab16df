#include "cases/sweep/heated_designs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "cases/sweep/rank.hpp"
#include "materials/figures.hpp"

namespace cw::cases {

namespace {

using Json = nlohmann::json;

constexpr double states_are_good_to = 0.05;  ///< error of states at low effort, with a margin

/// Whether the states show that a limit or requirement is broken, whatever the heating run gives.
bool breaks_for_sure(const Sweep& sweep, const std::string& states) {
  const Json result = Json::parse(states);
  for (const Json& limit : result.value("limits", Json::array())) {
    if (!limit.contains("fraction") || limit.at("verdict") != "stop") continue;
    const std::string state = limit.at("at_state");
    const bool at_first = state == "empty" || state == "cold" || state == "fixed_frequency";
    if (at_first && limit.at("fraction") > 1 + states_are_good_to) return true;
  }
  const Figures figures = figures_of(states);
  return std::ranges::any_of(sweep.require, [&](const SweepRequirement& r) {
    const auto value = figure_of(figures, r.key);
    if (r.key.starts_with("heat.") || !value) return false;
    const auto room = [](double bound) { return states_are_good_to * std::abs(bound); };
    return (r.least && *value < *r.least - room(*r.least)) ||
           (r.most && *value > *r.most + room(*r.most));
  });
}

/// A figure approximately proportional to the time to target: the sum over the states of 1/(power
/// into the work) [1/W].
double slowness(const std::string& states) {
  const Figures figures = figures_of(states);
  double sum = 0;
  for (const char* state : {"cold", "fixed_frequency", "peak_demand", "past_curie", "at_target"})
    if (const auto power = figure_of(figures, fmt::format("states.{}.power.workpiece_W", state)))
      sum += 1 / std::max(*power, 1e-9);
  return sum;
}

/// The id under which the store keeps a design that was set aside.
std::string aside_id(const DesignRow& design) {
  return design.id + ":set aside";
}

SweepListener staged(const SweepListener& listener, const char* stage) {
  if (!listener) return listener;
  return [listener, stage](SweepProgress progress) {
    progress.stage = stage;
    listener(progress);
  };
}

class HeatedDesigns {
 public:
  HeatedDesigns(const Case& subject, const DesignBench& bench)
      : subject_(subject),
        bench_(bench),
        by_time_(subject.sweep->rank == "heat.time_to_target_s") {}

  std::optional<std::vector<DesignRow>> run(const std::vector<DesignRow>& designs) {
    constexpr std::size_t least_leaders = 4, one_in = 5;
    leaders_ = std::max(least_leaders, (designs.size() + one_in - 1) / one_in);
    std::vector<DesignRow> open;
    for (const DesignRow& design : designs)
      if (!take(design, design.id)) open.push_back(design);
    if (!sort_out(open)) return std::nullopt;
    find_cutoff();
    while (!open.empty()) {
      const std::size_t count =
          by_time_ && !cutoff_ ? std::min(leaders_, open.size()) : open.size();
      const auto rest = open.begin() + static_cast<std::ptrdiff_t>(count);
      if (!heat({open.begin(), rest})) return std::nullopt;
      open.erase(open.begin(), rest);
      find_cutoff();
    }
    std::vector<DesignRow> rows;
    for (const DesignRow& design : designs)
      if (const auto row = found_.find(design.id); row != found_.end()) rows.push_back(row->second);
    return rows;
  }

 private:
  /// Takes the row of this id from the store; false if there is none.
  bool take(const DesignRow& design, const std::string& id) {
    auto row = bench_.store.find(id);
    if (!row || row->outcome.status == DesignStatus::crashed) return false;
    row->changes = design.changes;  // the id guarantees them, whatever the file says
    found_[design.id] = std::move(*row);
    return true;
  }

  /// Solves the states; `open` then holds the designs to be heated, the most promising first. False
  /// if the user stopped it.
  bool sort_out(std::vector<DesignRow>& open) {
    SweepOptions coarse = bench_.options;
    coarse.effort = Effort::fast;
    coarse.means = {SweepMethod::plain, false};
    std::vector<DesignRow> states;
    for (const DesignRow& design : open)
      states.push_back(planned(subject_, design.study, design.changes, coarse));
    if (!solve_designs(bench_.fleet, bench_.store, states, bench_.options.from_behind,
                       staged(bench_.listener, "states")))
      return false;
    std::vector<std::pair<double, DesignRow>> promising;
    for (std::size_t k = 0; k < open.size(); ++k) {
      const auto row = bench_.store.find(states[k].id);
      const bool there = row && row->outcome.status == DesignStatus::solved;
      const bool wrong = row && row->outcome.status == DesignStatus::invalid;
      if (wrong || (there && breaks_for_sure(*subject_.sweep, row->outcome.result)))
        take(open[k], states[k].id);
      else
        promising.emplace_back(there ? slowness(row->outcome.result) : 0.0, open[k]);
    }
    std::ranges::stable_sort(promising, {}, &std::pair<double, DesignRow>::first);
    open.clear();
    for (auto& [slow, design] : promising) open.push_back(std::move(design));
    return true;
  }

  /// Finds the time of the slowest of the leaders, once enough of them do the job.
  void find_cutoff() {
    if (!by_time_) return;
    std::vector<double> times;
    for (const auto& [id, row] : found_) {
      if (row.outcome.status != DesignStatus::solved) continue;
      const RankedDesign design = judge_design(*subject_.sweep, subject_.sweep->rank, row);
      if (design.broken.empty() && design.value) times.push_back(*design.value);
    }
    if (times.size() < leaders_) return;
    const auto slowest = times.begin() + static_cast<std::ptrdiff_t>(leaders_ - 1);
    std::ranges::nth_element(times, slowest);
    cutoff_ = *slowest;
  }

  /// Whether it was already set aside after at least this time.
  bool was_set_aside(const DesignRow& design) {
    const auto row = bench_.store.find(aside_id(design));
    return row && row->outcome.status == DesignStatus::set_aside && cutoff_ &&
           row->outcome.solve_s >= *cutoff_;
  }

  /// False if the user stopped it.
  bool heat(const std::vector<DesignRow>& designs) {
    std::vector<DesignRow> now;
    for (const DesignRow& design : designs) {
      if (was_set_aside(design)) continue;
      now.push_back(design);
      if (cutoff_) now.back().give_up = *cutoff_ * (1 + 1e-6);  // an equal time is good enough
    }
    if (!solve_designs(bench_.fleet, bench_.store, now, bench_.options.from_behind,
                       staged(bench_.listener, "heating")))
      return false;
    for (const DesignRow& design : designs) {
      if (take(design, design.id)) continue;
      DesignRow aside = design;
      aside.outcome = {DesignStatus::set_aside, "", "", 0, 0, 0};
      if (const auto crashed = bench_.store.find(design.id)) aside.outcome = crashed->outcome;
      if (aside.outcome.status == DesignStatus::set_aside && cutoff_) note_aside(aside);
      found_[design.id] = std::move(aside);
    }
    return true;
  }

  void note_aside(DesignRow& aside) {
    aside.outcome.reason = fmt::format(
        "target not reached after {}; by then {} other designs have reached it and keep every "
        "limit",
        figure(*cutoff_, "s"), leaders_);
    aside.outcome.solve_s = *cutoff_;
    DesignRow kept = aside;
    kept.id = aside_id(aside);
    bench_.store.put(std::span(&kept, 1));
  }

  const Case& subject_;
  const DesignBench bench_;
  const bool by_time_;
  std::size_t leaders_ = 0;
  std::optional<double> cutoff_;            ///< [s] of heating
  std::map<std::string, DesignRow> found_;  ///< by the id of the planned design
};

}  // namespace

std::optional<std::vector<DesignRow>> heat_designs(const Case& subject,
                                                   const std::vector<DesignRow>& designs,
                                                   const DesignBench& bench) {
  return HeatedDesigns(subject, bench).run(designs);
}

}  // namespace cw::cases
