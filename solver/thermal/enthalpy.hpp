#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "materials/material.hpp"

namespace cw {

/// Temperature [K] and its slope dT/dh [K m^3/J] at an enthalpy; the slope is 0 if a substance
/// melts at one temperature.
struct Warmth {
  double kelvin = 0.0;
  double slope = 0.0;
};

/// Enthalpy of a substance per volume of cold metal [J/m^3], zero at 20 degC: the heat capacity's
/// integral times the density at 20 degC, plus the latent heat of melting spread evenly from
/// solidus to liquidus, or all at one temperature where they coincide.
///
/// h is linear between knots that lie exactly on the law; between them T is within 1 mK of the law.
/// Both directions are exact inverses of each other and always rise, and no time step can skip a
/// peak of the heat capacity without spending its energy. Per volume and not per mass, because then
/// the capacity matrix depends only on geometry, and a node shared by bonded bodies holds the sum
/// of their enthalpies.
class EnthalpyLaw {
 public:
  /// Throws std::invalid_argument if the heat capacity is not positive everywhere, or if the
  /// liquidus is below the solidus.
  explicit EnthalpyLaw(const Material& material);

  /// h(T) [J/m^3]; at a melting point that of the solid.
  [[nodiscard]] double of(double kelvin) const;
  /// The same, at a melting point that of the melt.
  [[nodiscard]] double of_melt(double kelvin) const;
  /// dh/dT [J/(m^3 K)] of the piece that begins at T.
  [[nodiscard]] double capacity(double kelvin) const;
  /// T(h) and its slope; beyond the knots (100 K, 5000 K) continued with the last slope.
  [[nodiscard]] Warmth at(double enthalpy) const;
  [[nodiscard]] const std::vector<double>& knots() const { return kelvin_; }

 private:
  struct Knot {
    double enthalpy, kelvin;
    double slope;  ///< dT/dh of the piece that begins here, 0 at a jump
  };
  void index();

  std::vector<double> kelvin_, enthalpy_;  ///< knots, rising; one temperature twice at a jump
  std::vector<Knot> knots_;                ///< the same knots as structs; the last is never reached
  std::vector<std::uint32_t> piece_;  ///< index at the beginning of each of equal steps of enthalpy
  double per_step_ = 0.0;             ///< steps per enthalpy
};

/// A body's share of the volume that belongs to a node.
struct VolumeShare {
  const EnthalpyLaw* law = nullptr;
  double share = 1.0;  ///< of the node's volume; the shares of a node sum to 1
};

/// The same for a node that bonded bodies share: one temperature, their enthalpies by share.
Warmth warmth(std::span<const VolumeShare> shares, double enthalpy);
double enthalpy(std::span<const VolumeShare> shares, double kelvin);
double enthalpy_of_melt(std::span<const VolumeShare> shares, double kelvin);
double capacity(std::span<const VolumeShare> shares, double kelvin);

}  // namespace cw
