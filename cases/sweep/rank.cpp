#include "cases/sweep/rank.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <tuple>

#include "materials/nearest.hpp"
#include "postproc/result/designs.hpp"
#include "postproc/text/limit_words.hpp"

namespace cw::cases {

namespace {

using Json = nlohmann::json;

void break_limit(RankedDesign& design, const std::string& name, std::string words) {
  design.limits.push_back(name);
  design.broken.push_back(std::move(words));
}

void judge_limits(const Json& limits, RankedDesign& design) {
  for (const Json& limit : limits) {
    if (!limit.contains("fraction")) continue;
    const NearestLimit found{limit.at("part"),     limit.at("quantity"), limit.at("verdict"),
                             limit.at("at_state"), limit.at("advice"),   limit.at("fraction")};
    if (found.verdict == "stop") {
      const std::string name =
          fmt::format("{}: {}", found.part, limit_quantity(found.quantity).words);
      break_limit(design, name,
                  fmt::format("{} at {:.0f} % of its limit", name, 100 * found.fraction));
      design.excess += found.fraction - 1;
    }
    if (!design.nearest || found.fraction > design.nearest->fraction) design.nearest = found;
  }
}

double relative(double passed, double bound) {
  return passed / std::max(std::abs(bound), 1e-300);
}

void judge_requirements(const Sweep& sweep, RankedDesign& design) {
  for (const SweepRequirement& r : sweep.require) {
    const auto value = figure_of(design.figures, r.key);
    const std::string name = key_name(r.key);
    if (!value) break_limit(design, name, fmt::format("{}: this design has no such figure", name));
    if (!value) continue;
    const auto refuse = [&](const char* way, double bound) {
      const std::string allowed = key_value(r.key, bound);
      break_limit(design, fmt::format("{}, {}", name, allowed),
                  fmt::format("{} is {}, {} {}", name, key_value(r.key, *value), way, allowed));
      design.excess += relative(std::abs(*value - bound), bound);
    };
    if (r.least && *value < *r.least)
      refuse("below", *r.least);
    else if (r.most && *value > *r.most)
      refuse("above", *r.most);
  }
}

/// How far the heating run ends, or would stall, below its target.
void judge_target(RankedDesign& design) {
  const auto target = figure_of(design.figures, "heat.target_K");
  auto end = figure_of(design.figures, "heat.reading_K");
  if (!target || !end || figure_of(design.figures, "heat.time_to_target_s")) return;
  if (const auto stall = figure_of(design.figures, "heat.stall_K"); stall && *stall < *target)
    end = stall;
  design.shortfall = *target - *end;
  break_limit(design, "target",
              fmt::format("misses the target by {:.0f} K, at {}", *design.shortfall,
                          key_value("heat.reading_K", *end)));
}

/// Nearest first: those that miss only the target, by how much; then the others by how far limits
/// are exceeded.
void sort_missing(std::vector<RankedDesign>& designs) {
  const auto order = [](const RankedDesign& d) {
    const bool target_alone = d.shortfall && d.broken.size() == 1;
    return std::tuple(!target_alone, target_alone ? *d.shortfall : d.excess);
  };
  std::ranges::stable_sort(designs, {}, order);
}

void sort(std::vector<RankedDesign>& designs, bool largest) {
  std::stable_sort(designs.begin(), designs.end(),
                   [&](const RankedDesign& a, const RankedDesign& b) {
                     return largest ? *a.value > *b.value : *a.value < *b.value;
                   });
}

}  // namespace

bool asks_for_heating(const Sweep& sweep) {
  const auto of_heat = [](std::string_view key) {
    if (key.starts_with('-')) key.remove_prefix(1);
    return key.starts_with("heat.");
  };
  return of_heat(sweep.rank) || of_heat(sweep.against) ||
         std::ranges::any_of(sweep.require,
                             [&](const SweepRequirement& r) { return of_heat(r.key); });
}

RankedDesign judge_design(const Sweep& sweep, const std::string& key, DesignRow row) {
  RankedDesign design;
  design.row = std::move(row);
  const Json result = Json::parse(design.row.outcome.result);
  design.figures = figures_of(design.row.outcome.result);
  if (result.contains("limits")) judge_limits(result.at("limits"), design);
  judge_target(design);
  judge_requirements(sweep, design);
  if (!key.empty()) design.value = figure_of(design.figures, key);
  return design;
}

Ranking rank_designs(const Sweep& sweep, std::vector<DesignRow> rows) {
  Ranking ranking;
  ranking.largest = sweep.rank.starts_with('-');
  ranking.key = ranking.largest ? sweep.rank.substr(1) : sweep.rank;
  for (DesignRow& row : rows) {
    if (row.outcome.status != DesignStatus::solved) {
      ranking.unsolved.push_back(std::move(row));
      continue;
    }
    RankedDesign design = judge_design(sweep, ranking.key, std::move(row));
    // The heating run may have been skipped for designs that break a limit anyway.
    const bool spared = ranking.key.starts_with("heat.");
    if (!design.broken.empty() && (design.value || design.shortfall || spared))
      ranking.breaking.push_back(std::move(design));
    else if (!design.value && !ranking.key.empty())
      ranking.unranked.push_back(std::move(design));
    else
      ranking.best.push_back(std::move(design));
  }
  sort_missing(ranking.breaking);
  if (ranking.key.empty()) return ranking;
  sort(ranking.best, ranking.largest);
  return ranking;
}

bool is_empty(const Ranking& ranking) {
  return ranking.best.empty() && ranking.breaking.empty() && ranking.unranked.empty() &&
         ranking.unsolved.empty();
}

std::string complaint_of(const Ranking& ranking) {
  if (ranking.unranked.empty() || !ranking.best.empty() || !ranking.breaking.empty()) return {};
  std::vector<std::string> known;
  for (const auto& [key, value] : ranking.unranked.front().figures) known.push_back(key);
  const auto near = nearest(ranking.key, known);
  return fmt::format("sweep.rank: found \"{}\", which no design has; write for example \"{}\"",
                     ranking.key, near.value_or("states.cold.power.workpiece_W"));
}

}  // namespace cw::cases
