#include "solver/run/remedies.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <mutex>
#include <new>
#include <optional>
#include <set>
#include <tuple>
#include <utility>

#include "materials/figures.hpp"
#include "solver/run/candidates.hpp"
#include "solver/run/in_parallel.hpp"
#include "solver/run/job_verdict.hpp"
#include "solver/run/run_heater.hpp"

namespace cw {

namespace {

constexpr int rounds = 3;
constexpr std::size_t heated_at_first = 3, heated_later = 2, most_told = 3;
constexpr double gain = 0.02;         ///< in power, for another step of the same change
constexpr double worth_a_word = 0.5;  ///< fraction of a limit worth mentioning
constexpr double hotter = 5.0;        ///< difference in temperature worth mentioning [K]

using Names = std::set<std::string>;

std::string name_of(const LimitResult& limit) {
  return limit.part + " " + limit.quantity;
}

Names names_of_passed(const Result& result) {
  Names names;
  for (const LimitResult& limit : result.limits)
    if (limit.verdict == Verdict::stop) names.insert(name_of(limit));
  return names;
}

bool within(const Names& some, const Names& all) {
  return std::ranges::includes(all, some);
}

/// The least power into the work over the states that it passes when hot, before losses [W].
double power_when_hot(const Result& result) {
  double least = 1e300;
  for (const StateResult& state : result.states) {
    if (state.name == "empty" || state.name == "cold") continue;
    double watts = state.power.workpiece.value_or(0.0);
    for (const auto& [name, body] : state.power.bodies) watts += body;
    least = std::min(least, watts);
  }
  return least;
}

/// A property that a remedy changes, and whether it increases.
using Way = std::pair<Knob, bool>;

Way way_of(const Remedy::Step& step) {
  return {step.knob, step.to > step.from};
}

/// Adds a step; if the property was changed before, the two become one step.
std::vector<Remedy::Step> joined(std::vector<Remedy::Step> steps, const Remedy::Step& next) {
  const auto same = std::ranges::find(steps, next.knob, &Remedy::Step::knob);
  if (same == steps.end())
    steps.push_back(next);
  else
    same->to = next.to;
  return steps;
}

struct Trial {
  Candidate candidate;
  double promise = 0.0;
};

struct Found {
  Remedy remedy;
  Candidate candidate;
  Result result;
};

/// The order of remedies: first those that do the job within every limit, fastest first; then those
/// that come nearest to it.
bool better(const Remedy& a, const Remedy& b) {
  const auto rank = [](const Remedy& r) {
    const bool done = r.reached && r.past_their_limit.empty();
    return std::tuple(!done, !r.reached, done ? r.steps.size() : 0U,
                      r.reached ? r.past_their_limit.size() : 0U,
                      r.reached ? r.time_to_target.value_or(0.0) : -r.end.kelvin);
  };
  return rank(a) < rank(b);
}

/// The result of a run; nothing if the heater cannot be built or solved, or the run was stopped.
template <class Solve>
std::optional<Result> solved(const Solve& solve) {
  try {
    Run run = solve();
    if (run.interrupted) return std::nullopt;
    return std::move(run.result);
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception&) {
    return std::nullopt;
  }
}

class Search {
 public:
  Search(const Heater& heater, const Result& own, const RemedySearch& search)
      : heater_(heater),
        own_(own),
        search_(search),
        passed_(names_of_passed(own)),
        passed_or_ahead_(passed_) {
    // Adds limits that are exceeded only in states which the heater's own run never reaches.
    // Another heater is not worse for exceeding them too.
    if (const auto ahead = solved([&] { return run_states(heater, Effort::fast); }))
      passed_or_ahead_.merge(names_of_passed(*ahead));
  }

  /// Takes one step after another from the best heater so far, until one does the job or no step
  /// helps.
  std::vector<Remedy> run() {
    Candidate from{heater_, {}};
    Result at = own_;
    for (int round = 0; round < rounds; ++round) {
      std::vector<Candidate> next = candidates(from.heater, at);
      if (round > 0)
        std::erase_if(next, [&](const Candidate& c) {
          return !worth_turning_.contains(way_of(c.steps.front()));
        });
      most_ = tried_ + static_cast<int>(next.size() + heated_at_first);
      for (Candidate& c : next) {
        c.steps = joined(from.steps, c.steps.front());
        c.heater = changed(heater_, c.steps);
      }
      const std::size_t before = found_.size();
      heat(by_states(std::move(next), at), round == 0 ? heated_at_first : heated_later);
      if (found_.size() == before) break;
      const auto best = std::min_element(
          found_.begin(), found_.end(),
          [](const Found& a, const Found& b) { return better(a.remedy, b.remedy); });
      if (best->remedy.reached && best->remedy.past_their_limit.empty()) break;
      if (best->candidate.steps.size() == from.steps.size() &&
          best->remedy.end.kelvin <= end_of_heating(*at.heat) + hotter)
        break;
      from = best->candidate;
      at = best->result;
    }
    return told();
  }

 private:
  [[nodiscard]] std::vector<Remedy> told() const {
    std::vector<Remedy> remedies;
    for (const Found& found : found_) remedies.push_back(found.remedy);
    std::ranges::stable_sort(remedies, better);
    if (remedies.size() > most_told) remedies.resize(most_told);
    return remedies;
  }

  bool go_on() {
    const std::lock_guard lock(counting_);
    if (search_.enough && search_.enough()) return false;
    if (search_.trying) search_.trying(tried_, most_);
    ++tried_;
    return true;
  }

  /// Candidates that exceed no limit which the heater's own states keep, the most promising first.
  std::vector<Trial> by_states(std::vector<Candidate> all, const Result& at) {
    std::vector<std::optional<Result>> results(all.size());
    in_parallel(all.size(), [&](std::size_t k) {
      if (go_on()) results[k] = solved([&] { return run_states(all[k].heater, Effort::fast); });
    });
    std::vector<Trial> trials;
    for (std::size_t k = 0; k < all.size(); ++k) {
      if (!results[k] || results[k]->states.size() < own_.states.size())
        continue;  // cannot be built or solved, or the tank will not ring
      const double promise = promise_of(*results[k], at);
      if (all[k].steps.size() == 1 && promise > promise_of(at, at) + gain)
        worth_turning_.insert(way_of(all[k].steps.front()));
      const Names now = names_of_passed(*results[k]);
      if (within(now, passed_or_ahead_))
        trials.push_back({std::move(all[k]), promise - (within(now, passed_) ? 0 : 10)});
    }
    std::ranges::stable_sort(trials, std::greater{}, &Trial::promise);
    return trials;
  }

  /// A measure of promise. If the target is missed: power while hot. If limits are exceeded or the
  /// supply switches off: the margin to the limits.
  [[nodiscard]] double promise_of(const Result& states, const Result& at) const {
    double worst = 1.0;
    for (const LimitResult& limit : states.limits)
      if (limit.verdict == Verdict::stop) worst = std::max(worst, limit.fraction.value_or(1.0));
    const double power = power_when_hot(states) / std::max(power_when_hot(at), 1.0);
    // A smaller demand matters most, since the supply switches off; power comes second.
    if (own_.verdict->bottleneck == Bottleneck::supply_trips)
      return 0.01 * std::min(power, 1.0) - worst;
    if (!own_.heat->reached) return power;
    // For a part that overheats, less power is better, as long as it still reaches its target.
    const bool spoilt = std::ranges::any_of(
        passed_, [](const std::string& name) { return name.ends_with("hottest_K"); });
    return (spoilt ? -power : std::min(power, 1.0)) - worst;
  }

  void heat(const std::vector<Trial>& trials, std::size_t most) {
    std::vector<std::optional<Result>> results(std::min(trials.size(), most));
    HeaterRunOptions options;
    options.effort = Effort::fast;
    options.stop = [this](const HeatingState&) { return search_.enough && search_.enough(); };
    in_parallel(results.size(), [&](std::size_t k) {
      if (go_on())
        results[k] = solved([&] { return run_heater(trials[k].candidate.heater, options); });
    });
    for (std::size_t k = 0; k < results.size(); ++k)
      if (results[k] && results[k]->heat)
        keep_if_it_helps(trials[k].candidate, std::move(*results[k]));
  }

  void keep_if_it_helps(const Candidate& candidate, Result result) {
    const Names now = names_of_passed(result);
    if (!within(now, passed_)) return;
    const HeatResult &heat = *result.heat, &before = *own_.heat;
    const bool helps = before.reached
                           ? heat.reached && now.size() < passed_.size()
                           : heat.reached || end_of_heating(heat) > end_of_heating(before) + hotter;
    if (helps) found_.push_back({remedy_of(candidate, result), candidate, std::move(result)});
  }

  [[nodiscard]] Remedy remedy_of(const Candidate& candidate, const Result& result) const {
    Remedy remedy;
    remedy.steps = candidate.steps;
    for (const Remedy::Step& step : candidate.steps)
      remedy.change += (remedy.change.empty() ? "" : ", ") + words_of(step, heater_);
    remedy.reached = result.heat->reached;
    remedy.time_to_target = result.heat->time_to_target;
    remedy.end = Temperature{end_of_heating(*result.heat)};
    for (const LimitResult& limit : result.limits)
      if (limit.verdict == Verdict::stop) remedy.past_their_limit.push_back(limit.part);
    if (const LimitResult* part = nearest_part(result)) {
      remedy.largest_fraction = part->fraction;
      remedy.nearest_part = part->part;
    }
    remedy.outcome = outcome_of(remedy, result);
    return remedy;
  }

  [[nodiscard]] std::string outcome_of(const Remedy& r, const Result& result) const {
    std::string text =
        r.reached && r.time_to_target
            ? fmt::format("the target after {}", figure(*r.time_to_target, "s"))
            : fmt::format("it reaches {} degC instead of {} degC", figure(r.end.in_celsius()),
                          figure(end_of_heating(*own_.heat) - zero_celsius));
    if (result.verdict && result.verdict->bottleneck == Bottleneck::supply_folds)
      text += ", the supply at its limit";
    if (r.largest_fraction.value_or(0.0) >= worth_a_word)
      text += fmt::format("; nearest to its limit, at {}: {}", percent(*r.largest_fraction),
                          r.nearest_part);
    return text;
  }

  const Heater& heater_;
  const Result& own_;
  const RemedySearch& search_;
  const Names passed_;
  Names passed_or_ahead_;
  std::set<Way> worth_turning_;
  std::mutex counting_;
  int tried_ = 0, most_ = 0;
  std::vector<Found> found_;
};

}  // namespace

std::vector<Remedy> find_remedies(const Heater& heater, const Result& result,
                                  const RemedySearch& search) {
  if (!result.heat || !result.verdict) return {};
  const Answer answer = result.verdict->answer;
  if (answer != Answer::no && answer != Answer::past_limits) return {};
  return Search(heater, result, search).run();
}

}  // namespace cw
