#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// Mean Nusselt numbers of natural convection from a surface of one temperature.
/// S. W. Churchill, H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1049 and 1323 (from memory):

/// Horizontal cylinder, length = diameter, Ra <= 1e12.
double nusselt_horizontal_cylinder(double rayleigh, double prandtl);
/// Vertical plate, length = height, all Ra.
double nusselt_vertical_plate(double rayleigh, double prandtl);

/// Factor by which a slender vertical cylinder exceeds the plate of its height, laminar:
/// 1 + B (sqrt(32) Gr^(-1/4) H/D)^C. Source: C. O. Popiel, J. Wojtkowiak, K. Bober, Exp. Therm.
/// Fluid Sci. 32 (2007) 607 (from memory), 0.01 <= Pr <= 100.
double slender_cylinder(double grashof, double prandtl, double height_over_diameter);

/// Hot plate, length = area/perimeter. McAdams 1954 as in heat-transfer textbooks (from memory):
/// upwards 0.54 Ra^(1/4) to 1e7, 0.15 Ra^(1/3) above; downwards 0.27 Ra^(1/4). Small ends have Ra
/// below the range of these laws, which starts at 1e4, and are extrapolated.
double nusselt_plate_up(double rayleigh);
double nusselt_plate_down(double rayleigh);

enum class Posture { horizontal_cylinder, vertical_cylinder, facing_up, facing_down };

/// Natural convection in still air.
struct NaturalConvection {
  Posture posture = Posture::horizontal_cylinder;
  double length = 0.0;    ///< diameter, height, or area/perimeter of the body [m]
  double diameter = 0.0;  ///< of a vertical cylinder [m]; 0: a plate
  Temperature air = Temperature::celsius(20.0);
};

/// Heat transfer coefficient [W/(m^2 K)] with the properties at the mean of surface and air. A
/// surface colder than the air is treated as the plate turned over.
double film_coefficient(const NaturalConvection& convection, Temperature surface);

}  // namespace cw
