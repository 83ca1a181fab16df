#pragma once

#include <optional>

namespace cw {

/// Permeability under direct-current bias, as core catalogues state it: the field strengths at
/// which 80 % and 50 % of the initial permeability remain [A/m].
struct BiasRollOff {
  double at_80_percent = 0.0, at_50_percent = 0.0;
};

/// A ring core of rectangular section.
struct RingCore {
  double outer = 0.0, inner = 0.0, height = 0.0;  ///< diameters and height [m]; for stacked cores,
                                                  ///< the total height
  double relative_permeability = 1.0;             ///< initial; not used where A_L is given
  std::optional<double> inductance_factor;        ///< A_L [H] per turn squared
  std::optional<double> saturation;               ///< flux density [T]
  std::optional<BiasRollOff> roll_off;            ///< left out: none
};

/// Effective magnetic length pi (D - d)/ln(D/d) [m] and section h (D - d)/2 [m2]: those of a ring
/// whose field falls as 1/r, so that mu0 mu A/l is the exact inductance per turn squared,
/// mu0 mu h ln(D/d)/(2 pi). Source: integral of the toroid's field (any textbook of physics).
double path_length(const RingCore& core);
double section_area(const RingCore& core);

/// A_L [H]: as given, else from size and permeability. Nominal sizes and permeabilities of powder
/// cores give the catalogue's A_L within some 15 %.
double inductance_factor(const RingCore& core);

/// Share of the initial permeability that remains at a field strength [A/m]: 1/(1 + (H/H50)^c), c
/// from the 80 % point (the form of the fits in catalogues of powder cores).
double permeability_left(const BiasRollOff& data, double field);

/// The wire of a choke.
struct ChokeWire {
  double diameter = 0.0;     ///< bare [m]
  double resistivity = 0.0;  ///< [ohm m]
};

/// Requirements of the choke.
struct ChokeDuty {
  double inductance_H = 0.0;           ///< wanted at the mean current
  double mean_A = 0.0;                 ///< direct current
  double ripple_peak_to_peak_A = 0.0;  ///< on top of it
};

/// A choke wound for its duty.
struct WoundChoke {
  int turns = 0;
  double unbiased_H = 0.0, biased_H = 0.0;    ///< with no current, and at the mean current
  double field_mean = 0.0, field_peak = 0.0;  ///< along the effective path [A/m]
  double flux_density_peak = 0.0;             ///< mean over the section at mean + ripple/2 [T]
  /// Current at which the flux density reaches the core's saturation [A]; empty without that
  /// figure.
  std::optional<double> saturation_A;
  double wire_length = 0.0;     ///< one layer, both ends cut flush [m]
  double resistance_ohm = 0.0;  ///< direct current
  double hole_fill = 0.0;       ///< width of all turns over the circumference of the hole; above 1
                                ///< a second layer begins
};

/// The choke with the fewest turns that keep the required inductance at the mean current; empty if
/// none do, since with more turns the permeability falls faster than N^2 rises. Flux density is A_L
/// N I/A without roll-off, so never too low. Throws std::invalid_argument for an impossible core.
std::optional<WoundChoke> wind_choke(const RingCore& core, const ChokeWire& wire,
                                     const ChokeDuty& duty);

}  // namespace cw
