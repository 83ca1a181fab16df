#pragma once

#include "tests/published/reference/layer_transfer.hpp"

namespace cw::reference {

/// A coaxial filament ring that carries `weight` times the current: radius and place [m].
struct Filament {
  double r;
  double z;
  double weight = 1.0;
};

/// A ring of rectangular section [m] with the same current density everywhere.
struct RectangularRing {
  double inner;
  double outer;
  double low;
  double high;
};

/// Its current on a Gauss rule of points by points filaments. The response of a load is smooth over
/// the section, so the error falls exponentially with the points: below 1e-9 with 8 if the section
/// is no wider than twice its distance to the load.
std::vector<Filament> filaments_of(const RectangularRing& ring, int points = 8);

/// The effect of a load on rings in series, per 1 A rms.
struct LoadAnswer {
  Complex change;             ///< of the impedance [ohm]
  std::vector<double> power;  ///< in each layer [W]
};

/// One harmonic cos(alpha z) of the field at infinite coaxial layers; alpha > 0 [1/m].
LayersAnswer answer_to_harmonic(const std::vector<Layer>& layers, double frequency, double alpha);

/// Parameters of the integral over the axial wave number.
struct WaveNumbers {
  int points = 12;     ///< of the Gauss rule on each panel
  double reach = 14.;  ///< ends at reach/(clear gap): the kernel has fallen to exp(-2 reach)
};

/// Filament rings round endless coaxial layers, all outside the outermost: Dodd & Deeds, J. Appl.
/// Phys. 39 (1968) 2829, for any number of layers. Panels double in width from the axis of the
/// wave numbers on, up to a period of the winding's own waves. Error below 1e-8, as halved panels
/// and a longer reach show (ReferenceLayeredCylinder).
LoadAnswer filaments_round_layers(const std::vector<Filament>& rings,
                                  const std::vector<Layer>& layers, double frequency,
                                  const WaveNumbers& how = {});

/// Share of the integral of |A|^2 along the outermost face beyond -z and z. A cut of the layers
/// there has an effect of second order in the field there, hence proportional to this share. The
/// rings are symmetric about z = 0. For an estimate: the integral is a sum whose images are 8 z
/// apart.
double share_beyond(const std::vector<Filament>& rings, const std::vector<Layer>& layers,
                    double frequency, double z);

}  // namespace cw::reference
