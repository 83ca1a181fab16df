#include "cases/design/purchases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <new>
#include <tuple>
#include <utility>

#include "cases/design/design_text.hpp"
#include "cases/design/heat_choices.hpp"
#include "materials/figures.hpp"
#include "materials/usual_parts.hpp"
#include "solver/run/in_parallel.hpp"
#include "solver/run/job_verdict.hpp"

namespace cw::cases {

namespace {

/// Something on another shelf.
struct Offer {
  std::string what;
  std::vector<Change> changes;
};

class OfferFinder {
 public:
  explicit OfferFinder(const ShelfCase& shelf) : shelf_(shelf), own_(shelf.subject) {}

  std::vector<Offer> run() {
    supplies();
    cans();
    conductor();
    supply_and_cans();
    return std::move(found_);
  }

 private:
  void supplies() {
    const auto& drive = std::get<PushPullDrive>(own_.drive);
    int told = 0;
    for (const double volts : usual_supply_volts)
      if (volts > 1.05 * drive.supply && told++ < 2)
        found_.push_back(
            {fmt::format(
                 "a {} supply{}", figure_short(volts) + " V",
                 drive.supply_limit ? fmt::format(" of {}", figure(*drive.supply_limit, "A")) : ""),
             {{"drive.supply", fmt::format("{:g} V", volts)}}});
    if (!drive.supply_limit) return;
    for (const double share : {1.5, 2.0, 3.0}) {
      const double amps = std::round(share * *drive.supply_limit);
      found_.push_back(
          {fmt::format("a supply of {:g} A instead of {:g} A", amps, *drive.supply_limit),
           {{"drive.supply_limit", fmt::format("{:g} A", amps)}}});
    }
    for (const double volts : usual_supply_volts)
      if (volts > 1.05 * drive.supply) {
        const double amps = std::round(2 * *drive.supply_limit);
        found_.push_back({fmt::format("a supply of {:g} V and {:g} A", volts, amps),
                          {{"drive.supply", fmt::format("{:g} V", volts)},
                           {"drive.supply_limit", fmt::format("{:g} A", amps)}}});
        break;
      }
  }

  void cans() {
    if (!shelf_.bank_free || !own_.tank) return;
    for (const double share : {1.5, 2.0, 3.0}) {
      const int more = static_cast<int>(std::ceil((share - 1) * shelf_.cans));
      found_.push_back({fmt::format("{} more cans of the same kind", more),
                        changes_for_cans(shelf_, shelf_.cans + more)});
    }
  }

  void conductor() {
    const auto& on_hand = own_.shelf;
    if (!on_hand || !on_hand->tube_length) return;
    for (const double share : {1.5, 2.0}) {
      const double metres = 0.5 * std::ceil(2 * share * *on_hand->tube_length);
      found_.push_back({fmt::format("{:.2g} m more of the {}", metres - *on_hand->tube_length,
                                    own_.coil.conductor.kind()),
                        {{"shelf.tube_length", fmt::format("{:g} m", metres)}}});
    }
  }

  /// Both at once, where one alone is not enough.
  void supply_and_cans() {
    const auto& drive = std::get<PushPullDrive>(own_.drive);
    if (!shelf_.bank_free || !own_.tank || !drive.supply_limit) return;
    const double amps = std::round(2 * *drive.supply_limit);
    Offer both{
        fmt::format("a supply of {:g} A instead of {:g} A, with {} more cans of the same kind",
                    amps, *drive.supply_limit, shelf_.cans),
        changes_for_cans(shelf_, 2 * shelf_.cans)};
    both.changes.push_back({"drive.supply_limit", fmt::format("{:g} A", amps)});
    found_.push_back(std::move(both));
  }

  const ShelfCase& shelf_;
  const Case& own_;
  std::vector<Offer> found_;
};

/// The search on the shelf that an offer makes.
class OfferSearch {
 public:
  /// Throws CaseError where nothing can be built with the parts that stay.
  OfferSearch(const ShelfCase& shelf, Offer offer, KnownCoils& known, const Experience& seen,
              const DesignSearchOptions& options)
      : offer_(std::move(offer)),
        options_(options),
        shelf_(with_values(shelf, offer_.changes)),
        rank_(shelf_, known, options) {
    constexpr std::size_t most_coils = 24;
    rank_.learn(seen);
    rank_.look_at(coils_to_try(shelf_, rank_.bounds(), most_coils), "what to buy");
    rank_.sharpen(DesignKind::quickest);
    rank_.look_at_banks(DesignKind::quickest, 2);
    best_ = rank_.best(DesignKind::quickest);
  }

  /// The order worth heating in: what promises to do the work, soonest first; then the hottest.
  [[nodiscard]] auto order() const {
    if (best_.empty()) return std::tuple(2, 0.0, 0.0);
    const Candidature& c = best_.front();
    if (rank_.does_it(c)) return std::tuple(0, *rank_.time_of(c), 0.0);
    return std::tuple(1, rank_.share_of_limit(c) > 1.0 ? 1.0 : 0.0, -c.promise.end.kelvin);
  }

  /// The best that is not heated yet: at first whatever it promises, then only if it promises to do
  /// the work.
  [[nodiscard]] std::optional<Choice> next() const {
    if (done()) return std::nullopt;
    const auto next = std::ranges::find_if(
        best_, [&](const Candidature& c) { return !heated_.contains(c.choice); });
    if (next == best_.end() || (!heated_.empty() && !rank_.does_it(*next))) return std::nullopt;
    return next->choice;
  }

  void heat(const Choice& choice) { heat_choices(shelf_, {choice}, options_, heated_); }

  /// Corrects the promises by what was heated; steps to each side of it join in.
  void learn_from(const Choice& choice) {
    rank_.learn(experience_of(rank_, heated_));
    rank_.look_at(neighbours(shelf_, rank_.bounds(), choice), "what to buy");
    rank_.look_at_banks(DesignKind::quickest, 1);
    best_ = rank_.best(DesignKind::quickest);
  }

  [[nodiscard]] bool done() const {
    return std::ranges::any_of(heated_, [](const auto& h) { return does_its_job(h.second); });
  }

  /// The best that was heated.
  [[nodiscard]] std::optional<Purchase> purchase() const {
    std::optional<Purchase> best;
    for (const auto& [choice, result] : heated_) {
      if (!result.verdict) continue;
      const Purchase own{
          offer_.what,
          fmt::format("with {}: {}", words_of(shelf_, choice), result.verdict->sentence),
          does_its_job(result), end_of_heating(*result.heat), choice};
      if (!best || better(own, *best)) best = own;
    }
    return best;
  }

  static bool better(const Purchase& a, const Purchase& b) {
    return std::tuple(!a.enough, a.enough ? 0.0 : -a.reached) <
           std::tuple(!b.enough, b.enough ? 0.0 : -b.reached);
  }

 private:
  Offer offer_;
  const DesignSearchOptions& options_;
  ShelfCase shelf_;
  CoilRank rank_;
  std::vector<Candidature> best_;
  HeatedChoices heated_;
};

}  // namespace

std::vector<Purchase> find_purchases(const ShelfCase& shelf, KnownCoils& known,
                                     const Experience& seen, const DesignSearchOptions& options) {
  constexpr std::size_t most_heated = 4, most_told = 3;
  constexpr int rounds = 3;
  std::vector<std::unique_ptr<OfferSearch>> all;
  for (const Offer& offer : OfferFinder(shelf).run()) {
    try {
      all.push_back(std::make_unique<OfferSearch>(shelf, offer, known, seen, options));
    } catch (const std::bad_alloc&) {
      throw;
    } catch (const std::exception&) {  // NOLINT(bugprone-empty-catch): cannot be built
    }
  }
  std::ranges::stable_sort(all, {}, [](const auto& search) { return search->order(); });
  if (all.size() > most_heated) all.resize(most_heated);
  for (int round = 0; round < rounds; ++round) {
    std::vector<std::pair<OfferSearch*, Choice>> next;
    for (const auto& search : all)
      if (const auto choice = search->next()) next.emplace_back(search.get(), *choice);
    in_parallel(next.size(), [&](std::size_t k) { next[k].first->heat(next[k].second); });
    for (const auto& [search, choice] : next) search->learn_from(choice);
  }
  std::vector<Purchase> purchases;
  for (const auto& search : all)
    if (auto purchase = search->purchase()) purchases.push_back(std::move(*purchase));
  std::ranges::stable_sort(purchases, OfferSearch::better);
  if (purchases.size() > most_told) purchases.resize(most_told);
  return purchases;
}

}  // namespace cw::cases
