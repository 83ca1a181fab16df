#pragma once

#include <array>
#include <optional>

namespace cw {

/// Usual values of parts of the circuit, by the rating or the size that a maker can read off them.
/// For values that a case leaves out, always reported as assumed. No rating is ever assumed.

/// On-state resistance [ohm] of a power MOSFET in a large package (such as TO-247) rated for this
/// peak voltage [V], hot: twice the value at 25 degC on the first page of data sheets, as at a
/// junction of 125 degC. Nothing above 1200 V. From memory; single devices differ threefold either
/// way.
std::optional<double> usual_on_resistance(double voltage_limit);

/// Thermal resistance from junction to case of such a transistor, and through an insulating pad
/// with grease [K/W]. From memory.
inline constexpr double usual_junction_to_case = 0.6, usual_pad = 0.5;

/// Resistance [ohm] of a wound feed choke of this inductance [H]: inductance over 8 ms, as for
/// powder ring cores for 10 to 40 A. From memory; a heavier winding has half of it.
double usual_choke_resistance(double inductance);

/// Thermal resistance to the air [K/W] of a finned heat sink with these outer sizes [m] in air of
/// this speed [m/s]; 0: still air, fins upright. Volumetric resistance 800, 250, 150 and 80 cm3 K/W
/// at 0, 1, 2.5 and 5 m/s: the upper ends of the ranges in S. Lee, "How to select a heat sink",
/// Electronics Cooling 1 (1995), read in reprints; its logarithm is interpolated linearly.
double finned_sink_to_air(const std::array<double, 3>& size, double air_speed);

/// Voltages of supplies as they are commonly sold [V], up to 60 V DC, above which other rules of
/// safety apply; common practice, no source.
inline constexpr std::array usual_supply_volts = {12.0, 24.0, 36.0, 48.0, 60.0};

/// A ring pressed of metal powder, without its coating [m].
struct PowderRing {
  double outer, inner, height;
};
/// Common sizes for chokes of 5 to 40 A, the smallest first. From memory.
inline constexpr std::array powder_rings = {
    PowderRing{26.9e-3, 14.7e-3, 11.2e-3}, PowderRing{33.0e-3, 19.9e-3, 10.7e-3},
    PowderRing{39.9e-3, 24.1e-3, 14.5e-3}, PowderRing{46.7e-3, 24.1e-3, 18.0e-3},
    PowderRing{57.2e-3, 26.4e-3, 15.2e-3}, PowderRing{77.8e-3, 39.3e-3, 25.9e-3},
    PowderRing{101.6e-3, 57.2e-3, 33.0e-3}};

/// Iron, silicon and aluminium powder: initial permeability, and the fields [A/m] at which 80 and
/// 50 % of it are left. From memory, on the low side: makers differ.
struct PowderGrade {
  double permeability, bias_80, bias_50;
};
inline constexpr std::array powder_grades = {PowderGrade{60, 2.8e3, 5.6e3},
                                             PowderGrade{26, 6.4e3, 13e3}};

/// A boxed film capacitor by its outer sizes: width, depth, height [m].
struct BoxedCan {
  double heat_capacity;  ///< [J/K]
  double to_air;         ///< [K/W]
};

/// Top and sides lose heat with 10 W/(m2 K), convection and radiation together some 20 K above
/// still air; the base is on the board. 1.7 J/(cm3 K) of polypropylene and resin. Both from memory.
BoxedCan boxed_can(const std::array<double, 3>& size);

/// Highest temperature at which polypropylene film keeps its full voltage rating [degC]; common
/// practice, no source.
inline constexpr double usual_can_limit = 85.0;

}  // namespace cw
