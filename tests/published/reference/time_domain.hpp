#pragma once

#include <functional>

#include "tests/published/reference/quadrature.hpp"

/// Saturating metal in time, by brute force: the field of one period, step by step, without an
/// effective permeability. Shares no code with the solver under test.
namespace cw::reference {

/// B(H) [T] and dB/dH [H/m], momentary, for H >= 0; B odd.
struct Saturation {
  std::function<double(double)> flux;
  std::function<double(double)> slope;
};

/// J = Js H/(H + a) beside mu0 H (Froehlich 1881, Kennelly 1891; from memory).
Saturation froehlich(double saturation, double half_field);

/// A body whose surface carries H0 sin(wt), along the surface.
struct TimeDomainBody {
  Saturation metal;
  double resistivity;  ///< [ohm m]
  double depth;        ///< from the surface to where nothing flows: half thickness, or radius [m]
  bool cylinder = false;  ///< field along its axis; else a flat face
};

/// Fineness; the defaults give power to about 1e-3.
struct TimeDomainGrid {
  int cells = 240;  ///< over the depth that the field reaches, uniform; then growing
  int steps = 480;  ///< per period
};

struct PeriodicResponse {
  double power;       ///< mean over a period, through the surface [W/m^2]
  Complex impedance;  ///< fundamental E/H at the surface [ohm]
  int half_periods;   ///< until periodic to 1e-5 in power
  double imbalance;   ///< Joule heat over that power, less one: damping by the time steps
};

/// Periodic state of  curl curl H = -sigma dB/dt  in one dimension: finite volumes, backward
/// differences of second order, Newton's method at every step.
PeriodicResponse periodic_response(const TimeDomainBody& body, double hertz, double peak_field,
                                   const TimeDomainGrid& grid = {});

}  // namespace cw::reference
