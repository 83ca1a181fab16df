#pragma once

#include <functional>

#include "materials/material.hpp"

namespace cw {

/// Flux density [T] at a field [A/m], both instantaneous or both peak; odd and rising, at least as
/// steep as mu0. Called only with fields >= 0.
using FluxCurve = std::function<double(double)>;

/// How one permeability represents the loop B(H sin wt) of a period in a time-harmonic field.
enum class PermeabilityLaw {
  peak,         ///< B_peak/H_peak; the power in a thick face is up to 13 % too low
  fundamental,  ///< first harmonic of B over H_peak
  rms           ///< sqrt(2) rms{B}/H_peak: power in a thick face within about 1 %; the default
};

/// J(H) at 20 degC for any field: the curve of the file if there is one (smooth and monotone
/// between its points, J constant above the last), else the Froehlich-Kennelly form. Throws
/// std::invalid_argument if the material is not magnetic.
FluxCurve flux_curve(const Material& material);
FluxCurve flux_curve(const Magnetisation& magnetisation);
/// Monotone cubic through the points (F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5
/// (1984) 300, from memory); the curve must have no faults (magnetisation_curve.hpp).
FluxCurve flux_curve(const MagnetisationCurve& curve);

/// Peak of the sinusoidal flux density [T] that represents B(H_peak sin wt).
double effective_flux(const FluxCurve& flux, double peak_field, PermeabilityLaw law);

/// Js(T)/Js(20 degC), 0 at and above the Curie point. Half field and saturation fall together, so
/// B(H, T) = m B(H/m, 20 degC) with this m: one curve serves every temperature.
double magnetisation_share(const Magnetisation& magnetisation, Temperature t);

}  // namespace cw
