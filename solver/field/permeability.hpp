#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "materials/effective_permeability.hpp"

namespace cw {

/// The effective reluctivity of a saturating metal as a smooth function of the flux density:
/// tabulated once, ln H over ln B, monotone cubic (F. N. Fritsch, R. E. Carlson, SIAM J. Numer.
/// Anal. 17 (1980) 238, from memory); constant towards B = 0, H = (B - J)/mu0 beyond the table.
/// Every temperature follows from the table: B(H, T) = m B(H/m, 20 degC), m = magnetisation_share.
class EffectiveReluctivity {
 public:
  /// From the peak of effective flux density [T] at a peak field [A/m]: it must be positive, and
  /// rise at least as mu0 H; otherwise throws SolveError.
  explicit EffectiveReluctivity(const FluxCurve& effective_flux);
  EffectiveReluctivity(const FluxCurve& flux, PermeabilityLaw law);

  struct Value {
    double nu;     ///< H/B [m/H]
    double slope;  ///< d ln H/d ln B; > 0, 1 where the metal is linear
  };
  /// At |B|^2 [T^2], B the rms phasor vector; `share` = m, 0 above the Curie point.
  [[nodiscard]] Value at(double flux_rms_squared, double share = 1.0) const;
  /// B/(mu0 H) at |H| [A/m], rms phasor.
  [[nodiscard]] double relative_permeability(double field_rms, double share = 1.0) const;

 private:
  /// A cubic for nu over the square of peak flux density.
  struct Piece {
    double from, per_width;  ///< [T^2], [1/T^2]
    std::array<double, 4> coefficient;
  };
  [[nodiscard]] Value at_log(double log_flux) const;
  void tabulate();

  std::vector<double> log_flux_, log_field_, slope_;  ///< peak values; slope d ln H/d ln B
  double saturated_ = 0.0;                            ///< B - mu0 H at the end of the table [T]
  std::vector<Piece> piece_;                          ///< between the knots of the table
  std::vector<std::uint16_t> piece_at_;  ///< the piece at the beginning of each of 64 places to
                                         ///< every doubling of B^2
  std::uint64_t first_place_ = 0;
};

/// Skin depth sqrt(2/(w mu sigma)) [m] of a saturating metal at a field |H| [A/m] rms.
double saturated_skin_depth(const EffectiveReluctivity& law, double share, double conductivity,
                            Frequency f, double field_rms);

}  // namespace cw
