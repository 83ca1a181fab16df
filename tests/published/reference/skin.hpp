#pragma once

#include "tests/published/reference/quadrature.hpp"

namespace cw::reference {

/// A linear conductor: resistivity [ohm m] and relative permeability.
struct Metal {
  double rho;
  double mu_r = 1.0;
};

/// Skin depth [m] = sqrt(rho/(pi f mu)); 503.292121 sqrt(rho/(mu_r f)).
double skin_depth(const Metal& metal, double frequency);

/// Surface resistance of a thick face [ohm] = rho/skin depth.
double surface_resistance(const Metal& metal, double frequency);

/// Impedance of a straight round wire over its DC resistance, q I0(q)/(2 I1(q)),
/// q = (1+j) radius/skin depth.
/// Kelvin 1889; tabulated in NBS Circular 74 (from memory).
Complex round_wire_ratio(double radius_over_depth);

/// Internal inductance of that wire over its DC value mu0/(8 pi).
double round_wire_inductance_ratio(double radius_over_depth);

/// A straight tube: inner and outer radius [m].
struct Tube {
  double inner;
  double outer;
};

/// Internal impedance per length [ohm/m] of a tube whose return runs outside it (H. B.
/// Dwight, Trans. AIEE 37 (1918) 1379, from memory): no field in the bore.
Complex tube_impedance(const Tube& tube, const Metal& metal, double frequency);

/// Loss of a slab with field on one side only over that of a thick one; thickness/skin depth.
/// Least at pi/2, where it is tanh(pi/2). (sinh 2t + sin 2t)/(cosh 2t - cos 2t), the plane
/// wall of the classical diffusion equation.
double slab_loss_ratio(double thickness_over_depth);

/// F + jG = (1+j) I1(ka)/I0(ka) of a long solid cylinder in an axial field (classical; Davies &
/// Simpson, Induction Heating Handbook, 1979; from memory). P' = (pi a/(sigma d)) H0^2 F with H0
/// the PEAK field at the surface [A/m]; the reactive power likewise with G.
Complex cylinder_loss_functions(double radius_over_depth);

/// mu' - j mu'' = 2 I1(ka)/(ka I0(ka)): mean over applied flux density, over mu_r (Foerster; from
/// memory).
Complex effective_permeability(double radius_over_depth);

/// Power per length [W/m] in a long solid cylinder, PEAK surface field [A/m].
double cylinder_power(double radius, const Metal& metal, double frequency, double peak_field);

/// A non-magnetic tube in an axial field: field in its bore over the applied one, power [W/m].
struct TubeResponse {
  Complex bore_over_applied;
  double power;
};

/// Long non-magnetic tube in a PEAK axial field [A/m]; the bore's field is uniform:
/// rho H'(inner) = j w mu0 inner H/2.
TubeResponse tube_in_axial_field(const Tube& tube, double rho, double frequency, double peak_field);

/// Im(I2(ka)/I0(ka)): loss of a round non-magnetic wire in a uniform transverse field.
double transverse_wire_function(double radius_over_depth);

/// Power per length [W/m] of that wire, pi w mu0 a^2 H0^2 Im(I2/I0), PEAK field far away [A/m].
double transverse_wire_power(double radius, double rho, double frequency, double peak_field);

/// Efficiency of a long close coil, both skins thick: 1/(1 + (Dc/Dw) sqrt(rho_c/(rho_w mu_r)))
/// (classical; Davies & Simpson; Zinn & Semiatin; from memory).
double thick_skin_efficiency(double coil_over_work_diameter, double coil_rho, const Metal& work);

/// The same with the work's exact loss function F: an infinite solenoid of thick skin.
double solenoid_efficiency(double coil_over_work_diameter, double coil_rho, const Metal& work,
                           double work_diameter_over_depth);

}  // namespace cw::reference
