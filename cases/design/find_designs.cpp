#include "cases/design/find_designs.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "cases/design/heat_choices.hpp"
#include "cases/design/purchases.hpp"
#include "cases/run/run_case.hpp"
#include "solver/run/in_parallel.hpp"
#include "solver/run/job_verdict.hpp"

namespace cw::cases {

namespace {

/// What a kind is ranked by, the smaller the better.
double measure(DesignKind kind, const Result& result, double tube) {
  switch (kind) {
    case DesignKind::quickest:
      return result.heat->time_to_target.value_or(1e9);
    case DesignKind::coolest_supply:
      return most_while_heating(result, &HeatLine::total_W);
    case DesignKind::least_copper:
      break;
  }
  return tube;
}

class DesignSearch {
 public:
  DesignSearch(const ShelfCase& shelf, KnownCoils& known, const DesignSearchOptions& options)
      : shelf_(shelf), options_(options), known_(known), rank_(shelf, known, options) {}

  FoundDesigns run() {
    constexpr std::size_t most_coils = 48;
    rank_.look_at(coils_to_try(shelf_, rank_.bounds(), most_coils), "coils");
    rank_.sharpen(DesignKind::quickest);
    if (rank_.banks() == 0) throw SolveError("no coil of this shelf can be solved");
    rank_.sharpen(DesignKind::quickest);
    refine();
    heat_the_best();
    move_the_best();
    FoundDesigns found;
    offer(found);
    found.coils = rank_.coils();
    found.banks = rank_.banks();
    if (found.offered.empty()) {
      offer_nearest(found);
      if (options_.purchases) found.purchases = find_purchases(shelf_, known_, seen_, options_);
    }
    found.heated = static_cast<int>(heated_.size());
    return found;
  }

 private:
  /// Steps to each side of the best of each kind, until none of them is better.
  void refine() {
    constexpr int rounds = 4;
    for (int round = 0; round < rounds; ++round) {
      std::vector<Choice> near;
      for (const DesignKind kind : all_design_kinds)
        for (const Choice& c : neighbours(shelf_, rank_.bounds(), rank_.best(kind).front().choice))
          near.push_back(c);
      const int before = rank_.coils();
      rank_.look_at(near, "steps to each side");
      for (const DesignKind kind : all_design_kinds) rank_.look_at_banks(kind, 3);
      if (rank_.coils() == before) break;
    }
    rank_.sharpen(DesignKind::quickest);
  }

  /// Heats the choices that can win, corrects the ranking by the results, and repeats this; more
  /// often if no choice has done the work yet.
  void heat_the_best() {
    constexpr int rounds = 4, most_rounds = 8;
    for (int round = 0; round < most_rounds; ++round) {
      if (round >= rounds && best_heated(DesignKind::quickest)) break;
      const std::vector<Choice> next = worth_heating(round == 0);
      if (next.empty()) break;
      heat_choices(shelf_, next, options_, heated_);
      seen_ = experience_of(rank_, heated_);
      rank_.learn(seen_);
    }
  }

  /// The ranking says little about the best place of the work along the coil: places a step to each
  /// side of the best are heated, as long as one of them is better.
  void move_the_best() {
    constexpr int most_rounds = 3;
    const double step = rank_.bounds().shift_step;
    for (int round = 0; step > 0.0 && round < most_rounds; ++round) {
      const auto best = best_heated(DesignKind::quickest);
      if (!best) return;
      std::vector<Choice> moved;
      for (const int way : {-1, 1}) {
        Choice c = *best;
        c.shift = 1e-6 * std::round(1e6 * (c.shift + way * step));
        if (!heated_.contains(c)) moved.push_back(c);
      }
      if (moved.empty()) return;
      heat_choices(shelf_, moved, options_, heated_);
      if (best_heated(DesignKind::quickest) == best) return;
    }
  }

  /// Of each kind the best that is not heated yet. At first two of the quickest, whatever their
  /// rank; later only choices that can win.
  [[nodiscard]] std::vector<Choice> worth_heating(bool first) const {
    std::vector<Choice> next;
    for (const DesignKind kind : all_design_kinds) {
      const std::size_t most = first && kind == DesignKind::quickest ? 2U : 1U;
      std::size_t taken = 0;
      for (const Candidature& c : rank_.best(kind)) {
        if (taken == most || (!first && !may_win(c, kind))) break;
        if (heated_.contains(c.choice)) continue;
        if (std::ranges::find(next, c.choice) == next.end()) next.push_back(c.choice);
        ++taken;
      }
    }
    return next;
  }

  /// Whether what a choice promises is about as good as the best that was heated.
  [[nodiscard]] bool may_win(const Candidature& c, DesignKind kind) const {
    constexpr double about = 1.04;
    if (!rank_.does_it(c)) return false;
    const auto best = best_heated(kind);
    if (!best) return true;
    const double known = measure(kind, heated_.at(*best), tube_needed(shelf_, *best));
    switch (kind) {
      case DesignKind::quickest:
        return *rank_.time_of(c) < about * known;
      case DesignKind::coolest_supply:
        return c.promise.supply_power < known / about;
      case DesignKind::least_copper:
        break;
    }
    return c.tube < known / about;
  }

  /// Of those that did the work, and were not found wanting when solved as `run` does it.
  [[nodiscard]] std::optional<Choice> best_heated(DesignKind kind) const {
    std::optional<Choice> best;
    double least = 1e300;
    for (const auto& [choice, result] : heated_) {
      const auto solved = at_normal_.find(choice);
      if (!does_its_job(solved == at_normal_.end() ? result : solved->second.result)) continue;
      const double own = measure(kind, result, tube_needed(shelf_, choice));
      if (own >= least) continue;
      least = own;
      best = choice;
    }
    return best;
  }

  OfferedDesign solved(const Choice& choice) {
    OfferedDesign design{{}, choice, chosen_case(shelf_, choice), {}, 0.0};
    design.tube = tube_needed(shelf_, choice);
    design.result = run_case(design.subject, RunOptions{}).result;
    return design;
  }

  /// The best of each kind that does the work as `run` solves it: where one does not, the next.
  void offer(FoundDesigns& found) {
    constexpr int most_rounds = 3;
    for (int round = 0; round < most_rounds; ++round) {
      std::vector<Choice> fresh;
      for (const DesignKind kind : all_design_kinds)
        if (const auto best = best_heated(kind); best && !at_normal_.contains(*best))
          if (std::ranges::find(fresh, *best) == fresh.end()) fresh.push_back(*best);
      if (fresh.empty()) break;
      if (options_.progress)
        options_.progress("as run solves it", 0, static_cast<int>(fresh.size()));
      std::vector<std::optional<OfferedDesign>> designs(fresh.size());
      in_parallel(fresh.size(), [&](std::size_t k) { designs[k] = solved(fresh[k]); });
      for (auto& design : designs) at_normal_.emplace(design->choice, std::move(*design));
    }
    for (const DesignKind kind : all_design_kinds) {
      const auto best = best_heated(kind);
      if (!best || !at_normal_.contains(*best) || !worth_offering(*best, kind, found)) continue;
      const auto same = std::ranges::find(found.offered, *best, &OfferedDesign::choice);
      OfferedDesign& design =
          same != found.offered.end() ? *same : found.offered.emplace_back(at_normal_.at(*best));
      design.kinds.push_back(kind);
    }
  }

  /// Whether it is clearly better than the first at what it is best at.
  [[nodiscard]] bool worth_offering(const Choice& choice, DesignKind kind,
                                    const FoundDesigns& found) const {
    constexpr double clearly = 0.95;
    if (found.offered.empty() || found.offered.front().choice == choice) return true;
    const OfferedDesign &own = at_normal_.at(choice), &first = found.offered.front();
    return measure(kind, own.result, own.tube) < clearly * measure(kind, first.result, first.tube);
  }

  void offer_nearest(FoundDesigns& found) {
    const Choice* nearest = nullptr;
    double hottest = 0.0;
    for (const auto& [choice, result] : heated_) {
      if (!result.heat) continue;
      const double end = end_of_heating(*result.heat) + (result.heat->reached ? 1.0 : 0.0);
      if (nearest != nullptr && end <= hottest) continue;
      nearest = &choice;
      hottest = end;
    }
    if (nearest == nullptr) return;
    found.nearest.push_back({{DesignKind::quickest},
                             *nearest,
                             chosen_case(shelf_, *nearest),
                             heated_.at(*nearest),
                             tube_needed(shelf_, *nearest)});
  }

  const ShelfCase& shelf_;
  const DesignSearchOptions& options_;
  KnownCoils& known_;
  CoilRank rank_;
  Experience seen_;
  HeatedChoices heated_;
  std::map<Choice, OfferedDesign> at_normal_;
};

}  // namespace

double most_while_heating(const Result& result, double HeatLine::*what) {
  double most = 0.0;
  for (const HeatLine& line : result.heat->lines) most = std::max(most, line.*what);
  return most;
}

FoundDesigns find_designs(const ShelfCase& shelf, KnownCoils& known,
                          const DesignSearchOptions& options) {
  return DesignSearch(shelf, known, options).run();
}

}  // namespace cw::cases
