#include "cases/design/answer_shelf.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cases/design/design_text.hpp"
#include "materials/usual_parts.hpp"
#include "solver/run/job_verdict.hpp"

namespace cw::cases {

namespace {

// What supplies commonly give.
constexpr std::array amperes = {5.0, 10.0, 15.0, 20.0, 30.0, 40.0, 60.0};

/// Cans of one kind worth soldering together.
constexpr int most_cans = 40;

class LeastSupply {
 public:
  LeastSupply(const ShelfCase& shelf, const DesignSearchOptions& options)
      : shelf_(shelf), options_(options) {}

  ShelfAnswer run() {
    std::vector<BoughtSupply> worth = worth_solving();
    // If none is, the answer says what is missing with the largest.
    if (worth.empty()) worth.push_back({usual_supply_volts.back(), amperes.back()});
    for (const BoughtSupply& supply : worth) {
      ShelfAnswer answer = solved(supply, supply == worth.back());
      if (!answer.found.offered.empty() || supply == worth.back()) return answer;
    }
    return {};  // not reached: there is a last one
  }

 private:
  /// By their power, from the smallest that nearly promises it at its voltage.
  [[nodiscard]] std::vector<BoughtSupply> worth_solving() {
    constexpr std::size_t most = 5;
    std::vector<BoughtSupply> worth;
    double least = 1e300;  // power of the smallest so far [W]
    for (const double v : usual_supply_volts) {
      const auto* const first = std::ranges::partition_point(amperes, [&](double a) {
        return v * a < 2 * least && !nearly_promises({v, a});
      });
      for (const auto* a = first; a != amperes.end(); ++a) worth.push_back({v, *a});
      if (first != amperes.end()) least = std::min(least, v * *first);
    }
    std::ranges::stable_sort(worth, {}, &BoughtSupply::power);
    if (worth.size() > most) worth.resize(most);
    return worth;
  }

  /// Before anything is heated, and with few coils: what comes near may do it after all.
  bool nearly_promises(const BoughtSupply& supply) {
    constexpr std::size_t few_coils = 24;
    constexpr double sooner = 0.85, past_limit = 1.1;
    const ShelfCase trial = with(supply);
    CoilRank rank(trial, known_, options_);
    rank.look_at(coils_to_try(trial, rank.bounds(), few_coils), "supplies");
    rank.sharpen(DesignKind::quickest);
    const auto best = rank.best(DesignKind::quickest);
    if (best.empty()) return false;
    const auto time = rank.time_of(best.front());
    return time && sooner * *time <= *trial.subject.heat->until &&
           rank.share_of_limit(best.front()) <= past_limit;
  }

  ShelfAnswer solved(const BoughtSupply& supply, bool last) {
    DesignSearchOptions options = options_;
    options.purchases = options_.purchases && last;
    ShelfAnswer answer{with(supply), {}};
    answer.found = find_designs(answer.shelf, known_, options);
    answer.found.supply = supply;
    return answer;
  }

  [[nodiscard]] ShelfCase with(const BoughtSupply& supply) const {
    return with_supply(shelf_, supply);
  }

  const ShelfCase& shelf_;
  const DesignSearchOptions& options_;
  KnownCoils known_;
};

/// Where no single purchase is enough: the least supply with as many cans as help.
std::optional<Purchase> supply_and_cans(const ShelfCase& shelf,
                                        const DesignSearchOptions& options) {
  if (!shelf.bank_free) return std::nullopt;
  DesignSearchOptions alone = options;
  alone.purchases = false;
  const ShelfAnswer answer =
      LeastSupply(with_cans(shelf, std::max(most_cans, 2 * shelf.cans)), alone).run();
  if (answer.found.offered.empty()) return std::nullopt;
  const OfferedDesign& first = answer.found.offered.front();
  const int more = first.choice.cans() - shelf.cans;
  Purchase purchase;
  purchase.what = fmt::format(
      "a supply of {:g} V and {:g} A{}", answer.found.supply->volts, answer.found.supply->amperes,
      more > 0 ? fmt::format(", with {} more cans of the same kind", more) : "");
  purchase.outcome = fmt::format("with {}: {}", words_of(answer.shelf, first.choice),
                                 first.result.verdict->sentence);
  purchase.enough = true;
  purchase.reached = end_of_heating(*first.result.heat);
  purchase.choice = first.choice;
  return purchase;
}

}  // namespace

ShelfAnswer answer_shelf(const ShelfCase& shelf, const DesignSearchOptions& options) {
  const ShelfCase full =
      shelf.cans_to_buy ? with_cans(shelf, std::max(most_cans, 2 * shelf.cans)) : shelf;
  ShelfAnswer answer;
  if (shelf.supply_to_buy) {
    answer = LeastSupply(full, options).run();
  } else {
    KnownCoils known;
    answer = {full, find_designs(full, known, options)};
    const auto enough = [](const Purchase& p) { return p.enough; };
    if (answer.found.offered.empty() && std::ranges::none_of(answer.found.purchases, enough))
      if (auto both = supply_and_cans(shelf, options))
        answer.found.purchases.insert(answer.found.purchases.begin(), std::move(*both));
  }
  if (shelf.cans_to_buy) answer.found.cans_on_hand = shelf.cans;
  return answer;
}

}  // namespace cw::cases
