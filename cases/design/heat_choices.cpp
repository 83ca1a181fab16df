#include "cases/design/heat_choices.hpp"

#include <algorithm>
#include <mutex>
#include <new>
#include <optional>

#include "solver/run/in_parallel.hpp"
#include "solver/run/run_heater.hpp"

namespace cw::cases {

namespace {

double median(std::vector<double> values) {
  std::ranges::sort(values);
  return values[values.size() / 2];
}

}  // namespace

void heat_choices(const ShelfCase& shelf, const std::vector<Choice>& choices,
                  const DesignSearchOptions& options, HeatedChoices& heated) {
  std::vector<Case> cases;
  cases.reserve(choices.size());
  for (const Choice& choice : choices) cases.push_back(chosen_case(shelf, choice));
  std::vector<std::optional<Result>> results(choices.size());
  std::mutex counting;
  int done = 0;
  in_parallel(choices.size(), [&](std::size_t k) {
    {
      const std::lock_guard lock(counting);
      if (options.progress)
        options.progress("heating runs", done, static_cast<int>(choices.size()));
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
    heated[choices[k]] = results[k] && results[k]->heat ? std::move(*results[k]) : Result{};
}

bool does_its_job(const Result& result) {
  return result.verdict && (result.verdict->answer == Answer::yes ||
                            result.verdict->answer == Answer::at_supply_limit);
}

Experience experience_of(const CoilRank& rank, const HeatedChoices& heated) {
  std::vector<double> slower;
  std::map<std::string, std::vector<double>> harder;
  for (const auto& [choice, result] : heated) {
    const Candidature* c = rank.find(choice);
    if (c == nullptr || !result.heat) continue;
    if (c->promise.time && result.heat->time_to_target)
      slower.push_back(*result.heat->time_to_target / *c->promise.time);
    for (const LimitResult& limit : result.limits) {
      const auto promised = c->promise.shares.find(limit_key(limit));
      if (promised != c->promise.shares.end() && counted_share(limit) > 0.0)
        harder[promised->first].push_back(counted_share(limit) / promised->second);
    }
  }
  Experience seen;
  if (!slower.empty()) seen.slower = median(slower);
  for (const auto& [limit, ratios] : harder) seen.harder[limit] = median(ratios);
  return seen;
}

}  // namespace cw::cases
