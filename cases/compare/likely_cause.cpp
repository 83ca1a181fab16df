#include "cases/compare/likely_cause.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace cw::cases {

namespace {

/// Indices of the readings to compare.
std::vector<std::size_t> used(const ReadingValues& measured, const ReadingValues& sound) {
  std::vector<std::size_t> all;
  for (std::size_t k = 0; k < reading_count; ++k)
    if (measured[k] && sound[k]) all.push_back(k);
  return all;
}

/// Logarithms of measured over predicted values; empty if the heater would not run.
std::optional<std::vector<double>> difference(const ReadingValues& measured,
                                              const ReadingValues& predicted,
                                              const std::vector<std::size_t>& readings) {
  std::vector<double> d;
  for (const std::size_t k : readings) {
    if (!predicted[k] || *predicted[k] <= 0) return std::nullopt;
    d.push_back(std::log(*measured[k] / *predicted[k]));
  }
  return d;
}

/// Chi squared for a covariance of accuracy^2 and the parts' tolerances, by Cholesky's
/// factorisation.
class Weight {
 public:
  Weight(const Expectation& expected, double accuracy, const std::vector<std::size_t>& readings)
      : n_(readings.size()), factor_(n_ * n_, 0.0) {
    for (std::size_t i = 0; i < n_; ++i)
      for (std::size_t j = 0; j <= i; ++j) {
        double c = i == j ? accuracy * accuracy : 0.0;
        // Variance 1/3: that of a uniform distribution over +-1.
        for (const auto& part : expected.by_part) c += part[readings[i]] * part[readings[j]] / 3;
        for (std::size_t k = 0; k < j; ++k) c -= at(i, k) * at(j, k);
        at(i, j) = i == j ? std::sqrt(c) : c / at(j, j);
      }
  }

  [[nodiscard]] double chi_squared(std::vector<double> d) const {
    double sum = 0;
    for (std::size_t i = 0; i < n_; ++i) {
      for (std::size_t k = 0; k < i; ++k) d[i] -= factor_[i * n_ + k] * d[k];
      d[i] /= factor_[i * n_ + i];
      sum += d[i] * d[i];
    }
    return sum;
  }

 private:
  double& at(std::size_t i, std::size_t j) { return factor_[i * n_ + j]; }
  std::size_t n_;
  std::vector<double> factor_;
};

/// Interpolates between two predictions, by their logarithms.
ReadingValues between(const ReadingValues& a, const ReadingValues& b, double share) {
  ReadingValues values;
  for (std::size_t k = 0; k < reading_count; ++k)
    if (a[k] && b[k] && *a[k] > 0 && *b[k] > 0) values[k] = *a[k] * std::pow(*b[k] / *a[k], share);
  return values;
}

/// Likelihoods from misfits, the smallest first. A cause chosen among several fits better by chance
/// than one fixed in advance: by one in chi squared per free parameter.
void share_likelihood(std::vector<CauseFit>& ranked) {
  double sum = 0;
  for (CauseFit& fit : ranked) {
    const double fitted = fit.fault.kind == Fault::Kind::sound ? 0.0 : 1.0;
    fit.likelihood = std::exp(-0.5 * (fit.misfit + fitted - ranked.front().misfit));
    sum += fit.likelihood;
  }
  for (CauseFit& fit : ranked) fit.likelihood /= sum;
}

/// Odds of the most likely cause against a sound heater.
double odds_against_sound(const std::vector<CauseFit>& ranked) {
  constexpr double most = 1e9;
  for (const CauseFit& fit : ranked)
    if (fit.fault.kind == Fault::Kind::sound)
      return std::min(most, ranked.front().likelihood / std::max(fit.likelihood, 1e-12));
  return most;
}

/// If there is a fault, the likeliest should be named; if there is none, chance must not cast
/// suspicion: among sound heaters about one in a hundred shows odds like these.
Finding finding_of(const Comparison& found) {
  constexpr double strong = 10.0;
  if (found.ranked.empty()) return Finding::unexplained;
  if (found.may_be_sound() && found.odds < strong) return Finding::sound;
  return found.ranked.front().misfit <= found.misfit_limit ? Finding::cause : Finding::unexplained;
}

}  // namespace

double chi_squared_limit(int degrees) {
  constexpr std::array<double, reading_count> table = {10.828, 13.816, 16.266, 18.467,
                                                       20.515, 22.458, 24.322};
  return table[static_cast<std::size_t>(std::clamp(degrees, 1, static_cast<int>(reading_count)) -
                                        1)];
}

FaultLibrary::FaultLibrary(const Case& subject,
                           const std::function<void(int, int, const std::string&)>& progress)
    : subject_(subject) {
  const std::vector<Fault> all = possible_faults(subject);
  const auto count = static_cast<int>(all.size());
  if (progress) progress(0, count, "tolerances");
  expected_ = expect_readings(subject);
  entries_.push_back({all.front(), expected_.value});
  for (std::size_t i = 1; i < all.size(); ++i) {
    if (progress) progress(static_cast<int>(i), count, in_words(all[i], subject));
    try {
      entries_.push_back({all[i], readings_with(subject, all[i], Effort::fast)});
    } catch (const SolveError&) {
      // A heater that cannot run with this fault cannot have given these readings.
    }
  }
}

Comparison FaultLibrary::compare(const Measured& measured) const {
  const std::vector<std::size_t> readings = used(measured.value, expected_.value);
  const Weight weight(expected_, measured.accuracy, readings);
  Comparison result;
  result.readings = static_cast<int>(readings.size());
  std::map<Fault::Kind, CauseFit> best;
  const auto consider = [&](const Fault& fault, const ReadingValues& predicted) {
    const auto d = difference(measured.value, predicted, readings);
    if (!d) return;
    const double misfit = weight.chi_squared(*d);
    const auto found = best.find(fault.kind);
    if (found == best.end() || misfit < found->second.misfit)
      best[fault.kind] = {fault, misfit, 0.0, predicted};
  };
  const Entry* lead = &entries_.front();  // the original length
  for (const Entry& entry : entries_) {
    consider(entry.fault, entry.value);
    if (entry.fault.kind != Fault::Kind::longer_leads) continue;
    for (int k = 1; k < 20; ++k) {
      Fault fault = entry.fault;
      const double share = k / 20.0;
      fault.lead = lead->fault.lead + share * (entry.fault.lead - lead->fault.lead);
      consider(fault, between(lead->value, entry.value, share));
    }
    lead = &entry;
  }
  for (auto& [kind, fit] : best) result.ranked.push_back(fit);
  std::ranges::stable_sort(result.ranked, {}, &CauseFit::misfit);
  share_likelihood(result.ranked);
  std::ranges::stable_sort(result.ranked, std::greater{}, &CauseFit::likelihood);
  result.misfit_limit = chi_squared_limit(std::max(1, result.readings));
  const auto sound = best.find(Fault::Kind::sound);
  result.sound_misfit = sound == best.end() ? 1e300 : sound->second.misfit;
  result.odds = odds_against_sound(result.ranked);
  result.finding = finding_of(result);
  return result;
}

}  // namespace cw::cases
