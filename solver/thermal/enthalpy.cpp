#include "solver/thermal/enthalpy.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <stdexcept>

namespace cw {
namespace {

constexpr double coldest = 100.0, hottest = 5000.0;  ///< [K]
constexpr double fidelity = 1e-3;                    ///< of T between knots [K]
constexpr double narrowest = 1e-4;                   ///< distance of knots [K]

/// Temperatures at which the law may kink or jump.
std::set<double> breaks_of(const Law& law) {
  std::set<double> at{coldest, hottest};
  const auto add = [&](double kelvin) {
    if (kelvin > coldest && kelvin < hottest) at.insert(kelvin);
  };
  if (const auto* table = std::get_if<Table>(&law.shape))
    for (const double kelvin : table->kelvin) add(kelvin);
  if (const auto* pieces = std::get_if<std::vector<Piece>>(&law.shape))
    for (const Piece& piece : *pieces) {
      add(piece.from);
      add(piece.to);
    }
  return at;
}

/// Halves [from, to] until the law is linear enough; appends all knots but `from`.
void refine(const Law& c, double from, double to, std::vector<double>& knots) {
  const double width = to - from, inside = 1e-7 * width;
  const double low = c(Temperature{from + inside}), high = c(Temperature{to - inside});
  const double middle = c(Temperature{from + 0.5 * width});
  const double least = std::min({low, middle, high});
  if (!(least > 0.0))
    throw std::invalid_argument(fmt::format(
        "found a heat capacity of {:.6g} J/(kg K) between {:.6g} and {:.6g} K; allowed: "
        "more than 0; correct heat_capacity",
        least, from, to));
  const double change = std::max({low, middle, high}) - least;
  if (width > narrowest && change * width > 8.0 * fidelity * least) {
    refine(c, from, from + 0.5 * width, knots);
    refine(c, from + 0.5 * width, to, knots);
    return;
  }
  knots.push_back(to);
}

double latent_share(const Melting& melting, double kelvin) {
  const double width = melting.liquidus.kelvin - melting.solidus.kelvin;
  return std::clamp((kelvin - melting.solidus.kelvin) / width, 0.0, 1.0);
}

}  // namespace

EnthalpyLaw::EnthalpyLaw(const Material& material) {
  const double density = material.density.value;
  const auto& melting = material.melting;
  std::set<double> breaks = breaks_of(material.heat_capacity);
  bool jumps = false;
  if (melting) {
    if (melting->liquidus < melting->solidus)
      throw std::invalid_argument(
          fmt::format("{}: found liquidus {:.6g} K below solidus {:.6g} K; allowed: at or above it",
                      material.name, melting->liquidus.kelvin, melting->solidus.kelvin));
    breaks.insert({melting->solidus.kelvin, melting->liquidus.kelvin});
    jumps = melting->liquidus == melting->solidus;
  }
  std::vector<double> knots{coldest};
  for (auto from = breaks.begin(); std::next(from) != breaks.end(); ++from)
    refine(material.heat_capacity, *from, *std::next(from), knots);
  double latent = 0.0;
  for (const double kelvin : knots) {
    const double sensible =
        density * material.heat_capacity.integral(Temperature::celsius(20.0), Temperature{kelvin});
    if (melting && !jumps) latent = density * melting->latent * latent_share(*melting, kelvin);
    kelvin_.push_back(kelvin);
    enthalpy_.push_back(sensible + latent);
    if (jumps && kelvin == melting->solidus.kelvin) {
      latent = density * melting->latent;
      kelvin_.push_back(kelvin);
      enthalpy_.push_back(sensible + latent);
    }
  }
  index();
}

namespace {

/// Index of the piece that holds x: the last whose beginning is below it (`strict`) or not above
/// it.
std::size_t piece_of(const std::vector<double>& knots, double x, bool strict) {
  const auto it = strict ? std::lower_bound(knots.begin() + 1, knots.end() - 1, x)
                         : std::upper_bound(knots.begin() + 1, knots.end() - 1, x);
  return static_cast<std::size_t>(it - knots.begin()) - 1;
}

}  // namespace

void EnthalpyLaw::index() {
  const std::size_t pieces = kelvin_.size() - 1;
  for (std::size_t i = 0; i < pieces; ++i)
    knots_.push_back({enthalpy_[i], kelvin_[i],
                      (kelvin_[i + 1] - kelvin_[i]) / (enthalpy_[i + 1] - enthalpy_[i])});
  // Never reached, so that the last piece continues beyond its end.
  knots_.push_back({std::numeric_limits<double>::quiet_NaN(), kelvin_.back(), 0.0});
  constexpr int steps = 1 << 14;
  constexpr double early = 1e-3;  // of a step, so that rounding never gives a piece that begins
                                  // after the enthalpy
  per_step_ = steps / (enthalpy_.back() - enthalpy_.front());
  for (int k = 0; k < steps; ++k)
    piece_.push_back(static_cast<std::uint32_t>(
        piece_of(enthalpy_, enthalpy_.front() + (k - early) / per_step_, false)));
}

double EnthalpyLaw::of(double kelvin) const {
  const std::size_t i = piece_of(kelvin_, kelvin, true);
  const double slope = (enthalpy_[i + 1] - enthalpy_[i]) / (kelvin_[i + 1] - kelvin_[i]);
  return enthalpy_[i] + slope * (kelvin - kelvin_[i]);
}

double EnthalpyLaw::of_melt(double kelvin) const {
  const std::size_t i = piece_of(kelvin_, kelvin, false);
  return enthalpy_[i] + capacity(kelvin) * (kelvin - kelvin_[i]);
}

double EnthalpyLaw::capacity(double kelvin) const {
  const std::size_t i = piece_of(kelvin_, kelvin, false);
  return (enthalpy_[i + 1] - enthalpy_[i]) / (kelvin_[i + 1] - kelvin_[i]);
}

Warmth EnthalpyLaw::at(double enthalpy) const {
  const double last = static_cast<double>(piece_.size() - 1);
  const auto step = static_cast<std::size_t>(
      std::min(last, std::max(0.0, (enthalpy - knots_.front().enthalpy) * per_step_)));
  std::size_t i = piece_[step];
  i += enthalpy >= knots_[i + 1].enthalpy ? 1U : 0U;
  while (enthalpy >= knots_[i + 1].enthalpy) ++i;
  const Knot& knot = knots_[i];
  return {knot.kelvin + knot.slope * (enthalpy - knot.enthalpy), knot.slope};
}

double enthalpy(std::span<const VolumeShare> shares, double kelvin) {
  double sum = 0.0;
  for (const VolumeShare& s : shares) sum += s.share * s.law->of(kelvin);
  return sum;
}

double enthalpy_of_melt(std::span<const VolumeShare> shares, double kelvin) {
  double sum = 0.0;
  for (const VolumeShare& s : shares) sum += s.share * s.law->of_melt(kelvin);
  return sum;
}

double capacity(std::span<const VolumeShare> shares, double kelvin) {
  double sum = 0.0;
  for (const VolumeShare& s : shares) sum += s.share * s.law->capacity(kelvin);
  return sum;
}

Warmth warmth(std::span<const VolumeShare> shares, double enthalpy) {
  if (shares.size() == 1) return shares.front().law->at(enthalpy);
  // Newton's method inside a bracket that bisection keeps closing; the sum is linear between knots.
  double low = -1e5, high = 1e5, kelvin = 300.0;
  for (int i = 0; i < 200 && high - low > 1e-11 * std::abs(kelvin); ++i) {
    const double capacity = cw::capacity(shares, kelvin);
    const double solid = cw::enthalpy(shares, kelvin), melt = enthalpy_of_melt(shares, kelvin);
    if (solid < enthalpy && enthalpy < melt) return {kelvin, 0.0};
    const double off = enthalpy <= solid ? enthalpy - solid : enthalpy - melt;
    if (std::abs(off) <= 1e-14 * capacity * kelvin) return {kelvin, 1.0 / capacity};
    (off < 0.0 ? high : low) = kelvin;
    kelvin += off / capacity;
    if (!(kelvin > low && kelvin < high)) kelvin = 0.5 * (low + high);
  }
  const double capacity = cw::capacity(shares, kelvin);
  const bool melting = enthalpy_of_melt(shares, high) - cw::enthalpy(shares, low) > 1e-6 * capacity;
  return {kelvin, melting ? 0.0 : 1.0 / capacity};
}

}  // namespace cw
