#include "solver/circuit/strands.hpp"

#include <fmt/core.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/circuit/round_conductor.hpp"

namespace cw {
namespace {

void require_bundle(const Bundle& b) {
  if (b.strands < 1) {
    throw std::invalid_argument(fmt::format(
        "strands is {}; it must be 1 or more: write strands = 400, for example", b.strands));
  }
  if (!(b.lay_factor >= 1.0)) {
    throw std::invalid_argument(fmt::format(
        "lay factor is {}; a strand is never shorter than its bundle: write 1 or more, such as "
        "1.02",
        b.lay_factor));
  }
}

}  // namespace

double strand_resistance_factor(double radius, double conductivity, Frequency f) {
  const RoundConductor strand{.outer_radius = radius, .conductivity = conductivity};
  return internal_impedance(strand, f).resistance_ohm / dc_resistance(strand);
}

double strand_proximity_loss(double radius, double conductivity, Frequency f, double H_rms) {
  const RoundConductor strand{.outer_radius = radius, .conductivity = conductivity};
  const double lossy = transverse_response(strand, f, 1).front().imag();
  return 2.0 * std::numbers::pi * f.omega() * mu0 * radius * radius * H_rms * H_rms *
         std::abs(lossy);
}

double bundle_dc_resistance(const Bundle& b) {
  require_bundle(b);
  const RoundConductor strand{.outer_radius = b.strand_radius, .conductivity = b.conductivity};
  require_usable(strand, {});
  return b.lay_factor * dc_resistance(strand) / b.strands;
}

double bundle_loss(const Bundle& b, Frequency f, double I_rms, double H2_mean) {
  const double skin = I_rms * I_rms * bundle_dc_resistance(b) *
                      strand_resistance_factor(b.strand_radius, b.conductivity, f);
  return skin + b.lay_factor * b.strands *
                    strand_proximity_loss(b.strand_radius, b.conductivity, f, std::sqrt(H2_mean));
}

}  // namespace cw
