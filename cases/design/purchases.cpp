#include "cases/design/purchases.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cases/design/design_text.hpp"
#include "materials/figures.hpp"
#include "solver/run/in_parallel.hpp"
#include "solver/run/job_verdict.hpp"
#include "solver/run/run_heater.hpp"

namespace cw::cases {

namespace {

/// Something on another shelf.
struct Offer {
  std::string what;
  std::vector<Change> changes;
};

/// Usual supplies, no more than is safe to touch.
constexpr std::array usual_volts = {12.0, 24.0, 36.0, 48.0, 60.0};

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
    for (const double volts : usual_volts)
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
    for (const double volts : usual_volts)
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

/// An offer with the best that its shelf promises.
struct Tried {
  Offer offer;
  ShelfCase shelf;
  Candidature best;
  bool promised = false, past_limit = false;
};

std::optional<Tried> best_of_offer(const ShelfCase& shelf, const Offer& offer, KnownCoils& known,
                                   const DesignSearchOptions& options) {
  constexpr std::size_t most_coils = 24;
  try {
    CaseText text = shelf.text;
    for (const Change& change : offer.changes) text.set.push_back(change);
    Tried t{offer, read_shelf_case(text), {}};
    CoilRank rank(t.shelf, known, options);
    rank.look_at(coils_to_try(t.shelf, rank.bounds(), most_coils), "what to buy");
    rank.sharpen(DesignKind::quickest);
    rank.look_at_banks(DesignKind::quickest, 2);
    const auto best = rank.best(DesignKind::quickest);
    if (best.empty()) return std::nullopt;
    t.best = best.front();
    t.promised = rank.does_it(t.best);
    t.past_limit = rank.share_of_limit(t.best) > 1.0;
    return t;
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception&) {
    return std::nullopt;  // cannot be built with the parts that stay
  }
}

/// The order worth heating in: what promises to do the work, soonest first; then the hottest.
bool more_promising(const Tried& a, const Tried& b) {
  const auto rank = [](const Tried& t) {
    return std::tuple(!t.promised, t.promised ? t.best.promise.time.value_or(0.0) : 0.0,
                      t.past_limit, -t.best.promise.end.kelvin);
  };
  return rank(a) < rank(b);
}

Purchase bought(const Tried& t, const Result& result) {
  Purchase purchase;
  purchase.what = t.offer.what;
  purchase.choice = t.best.choice;
  purchase.enough =
      result.verdict->answer == Answer::yes || result.verdict->answer == Answer::at_supply_limit;
  purchase.reached = end_of_heating(*result.heat);
  purchase.outcome =
      fmt::format("with {}: {}", words_of(t.shelf, t.best.choice), result.verdict->sentence);
  return purchase;
}

}  // namespace

std::vector<Purchase> find_purchases(const ShelfCase& shelf, KnownCoils& known,
                                     const DesignSearchOptions& options) {
  constexpr std::size_t most_heated = 4, most_told = 3;
  std::vector<Tried> all;
  for (const Offer& offer : OfferFinder(shelf).run())
    if (auto t = best_of_offer(shelf, offer, known, options)) all.push_back(std::move(*t));
  std::ranges::stable_sort(all, more_promising);
  if (all.size() > most_heated) all.resize(most_heated);
  std::vector<std::optional<Purchase>> heated(all.size());
  std::vector<Case> cases;
  for (const Tried& t : all) cases.push_back(chosen_case(t.shelf, t.best.choice));
  in_parallel(all.size(), [&](std::size_t k) {
    try {
      const Result result = run_heater(cases[k], {Effort::fast}).result;
      if (result.verdict) heated[k] = bought(all[k], result);
    } catch (const std::bad_alloc&) {
      throw;
    } catch (const std::exception&) {  // NOLINT(bugprone-empty-catch): brings nothing
    }
  });
  std::vector<Purchase> purchases;
  for (auto& purchase : heated)
    if (purchase) purchases.push_back(std::move(*purchase));
  std::ranges::stable_sort(purchases, [](const Purchase& a, const Purchase& b) {
    return std::tuple(!a.enough, a.enough ? 0.0 : -a.reached) <
           std::tuple(!b.enough, b.enough ? 0.0 : -b.reached);
  });
  if (purchases.size() > most_told) purchases.resize(most_told);
  return purchases;
}

}  // namespace cw::cases
