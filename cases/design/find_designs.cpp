#include "cases/design/find_designs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <mutex>

#include "cases/design/coil_rank.hpp"
#include "cases/design/purchases.hpp"
#include "cases/run/run_case.hpp"
#include "solver/run/in_parallel.hpp"
#include "solver/run/job_verdict.hpp"

namespace cw::cases {

namespace {

constexpr std::array all_kinds = {DesignKind::quickest, DesignKind::coolest_supply,
                                  DesignKind::least_copper};

bool does_its_job(const Result& result) {
  return result.verdict && (result.verdict->answer == Answer::yes ||
                            result.verdict->answer == Answer::at_supply_limit);
}

double largest_supply_power(const Result& result) {
  double most = 0.0;
  for (const HeatLine& line : result.heat->lines) most = std::max(most, line.total_W);
  return most;
}

/// What a kind is ranked by, the smaller the better.
double measure(DesignKind kind, const Result& result, double tube) {
  switch (kind) {
    case DesignKind::quickest:
      return result.heat->time_to_target.value_or(1e9);
    case DesignKind::coolest_supply:
      return largest_supply_power(result);
    case DesignKind::least_copper:
      break;
  }
  return tube;
}

class DesignSearch {
 public:
  DesignSearch(const ShelfCase& shelf, const DesignSearchOptions& options)
      : shelf_(shelf), options_(options), rank_(shelf, known_, options) {}

  FoundDesigns run() {
    constexpr std::size_t most_coils = 48;
    rank_.look_at(coils_to_try(shelf_, rank_.bounds(), most_coils), "coils");
    rank_.sharpen(DesignKind::quickest);
    if (rank_.banks() == 0) throw SolveError("no coil of this shelf can be solved");
    rank_.sharpen(DesignKind::quickest);
    refine();
    heat_the_best();
    FoundDesigns found;
    offer(found);
    found.coils = rank_.coils();
    found.banks = rank_.banks();
    if (found.offered.empty()) {
      offer_nearest(found);
      found.purchases = find_purchases(shelf_, known_, options_);
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
      for (const DesignKind kind : all_kinds)
        for (const Choice& c :
             neighbours(shelf_, rank_.bounds(), rank_.best(kind, slower_).front().choice))
          near.push_back(c);
      const int before = rank_.coils();
      rank_.look_at(near, "steps to each side");
      for (const DesignKind kind : all_kinds) rank_.look_at_banks(kind, 3);
      if (rank_.coils() == before) break;
    }
    rank_.sharpen(DesignKind::quickest);
  }

  void heat_the_best() {
    constexpr int rounds = 4;
    for (int round = 0; round < rounds; ++round) {
      std::vector<Choice> next;
      for (const DesignKind kind : all_kinds) {
        std::size_t taken = 0;
        for (const Candidature& c : rank_.best(kind, slower_)) {
          if (taken == (round == 0 && kind == DesignKind::quickest ? 2U : 1U)) break;
          if (round > 0 && !may_win(c, kind)) break;
          if (heated_.contains(c.choice)) continue;
          if (std::ranges::find(next, c.choice) == next.end()) next.push_back(c.choice);
          ++taken;
        }
      }
      if (next.empty()) break;
      heat(next);
      calibrate();
    }
  }

  /// Whether what a choice promises is about as good as the best that was heated.
  [[nodiscard]] bool may_win(const Candidature& c, DesignKind kind) const {
    constexpr double about = 1.04;
    const auto best = best_heated(kind);
    if (!best) return rank_.does_it(c, slower_);
    switch (kind) {
      case DesignKind::quickest:
        return rank_.does_it(c, slower_) &&
               *c.promise.time * slower_ < about * measure(kind, heated_.at(*best), 0.0);
      case DesignKind::coolest_supply:
        return rank_.does_it(c, slower_) &&
               c.promise.supply_power < measure(kind, heated_.at(*best), 0.0) / about;
      case DesignKind::least_copper:
        break;
    }
    return rank_.does_it(c, slower_) && c.tube < tube_needed(shelf_, *best) / about;
  }

  [[nodiscard]] std::optional<Choice> best_heated(DesignKind kind) const {
    std::optional<Choice> best;
    double least = 1e300;
    for (const auto& [choice, result] : heated_) {
      if (!does_its_job(result)) continue;
      const double own = measure(kind, result, tube_needed(shelf_, choice));
      if (own >= least) continue;
      least = own;
      best = choice;
    }
    return best;
  }

  void heat(const std::vector<Choice>& choices) {
    std::vector<Case> cases;
    cases.reserve(choices.size());
    for (const Choice& choice : choices) cases.push_back(chosen_case(shelf_, choice));
    std::vector<std::optional<Result>> results(choices.size());
    std::mutex counting;
    int done = 0;
    in_parallel(choices.size(), [&](std::size_t k) {
      {
        const std::lock_guard lock(counting);
        if (options_.progress)
          options_.progress("heating runs", done, static_cast<int>(choices.size()));
        ++done;
      }
      try {
        results[k] = run_heater(cases[k], {Effort::fast}).result;
      } catch (const std::bad_alloc&) {
        throw;
      } catch (const std::exception&) {  // NOLINT(bugprone-empty-catch): it does not win
      }
    });
    for (std::size_t k = 0; k < choices.size(); ++k)
      heated_[choices[k]] = results[k] && results[k]->heat ? std::move(*results[k]) : Result{};
  }

  /// How much slower heating runs are than promised, on the whole.
  void calibrate() {
    std::vector<double> ratios;
    for (const DesignKind kind : all_kinds)
      for (const Candidature& c : rank_.best(kind, slower_)) {
        const auto found = heated_.find(c.choice);
        if (found == heated_.end() || !found->second.heat || !c.promise.time) continue;
        if (const auto time = found->second.heat->time_to_target)
          ratios.push_back(*time / *c.promise.time);
      }
    if (ratios.empty()) return;
    std::ranges::sort(ratios);
    slower_ = ratios[ratios.size() / 2];
  }

  OfferedDesign solved(const Choice& choice, const std::vector<DesignKind>& kinds) {
    OfferedDesign design{kinds, choice, chosen_case(shelf_, choice), {}, 0.0};
    design.tube = tube_needed(shelf_, choice);
    RunOptions run;
    design.result = run_case(design.subject, run).result;
    return design;
  }

  void offer(FoundDesigns& found) {
    std::map<Choice, std::vector<DesignKind>> winners;
    std::vector<Choice> order;
    for (const DesignKind kind : all_kinds)
      if (const auto best = best_heated(kind)) {
        if (!winners.contains(*best)) order.push_back(*best);
        winners[*best].push_back(kind);
      }
    std::vector<std::optional<OfferedDesign>> designs(order.size());
    if (options_.progress) options_.progress("as run solves it", 0, static_cast<int>(order.size()));
    in_parallel(order.size(),
                [&](std::size_t k) { designs[k] = solved(order[k], winners[order[k]]); });
    for (auto& design : designs)
      if (design && does_its_job(design->result)) found.offered.push_back(std::move(*design));
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
  KnownCoils known_;
  CoilRank rank_;
  double slower_ = 1.0;
  std::map<Choice, Result> heated_;
};

}  // namespace

const char* words_of(DesignKind kind) {
  switch (kind) {
    case DesignKind::quickest:
      return "quickest";
    case DesignKind::coolest_supply:
      return "coolest supply";
    case DesignKind::least_copper:
      break;
  }
  return "least copper";
}

FoundDesigns find_designs(const ShelfCase& shelf, const DesignSearchOptions& options) {
  return DesignSearch(shelf, options).run();
}

}  // namespace cw::cases
