#pragma once

#include <vector>

#include "tests/published/reference/quadrature.hpp"

/// Concentric layers of linear media, cylinders or spheres, in one harmonic of the potential A_phi.
/// In every layer A is the sum of a wave that grows outwards and one that falls outwards (Bessel
/// functions I and K, cylindrical or spherical); at the faces A and H are continuous. Each wave is
/// relative to the face where it is largest, so nothing overflows in thick skins.
namespace cw::reference {

/// A layer [m], [S/m]. Layers are given from the axis or centre outwards, the first one solid; an
/// empty bore is a layer of air.
struct Layer {
  double outer;
  double conductivity = 0.0;
  double mu_r = 1.0;
};

/// The two waves of a layer with faces a < b. A wave's slope is (d(r A)/dr)/A.
struct LayerWaves {
  Complex growing_a, growing_b;  ///< slope of the growing wave at either face
  Complex falling_a, falling_b;  ///< slope of the falling wave
  Complex growth;                ///< growing wave at a over that at b
  Complex fall;                  ///< falling wave at b over that at a
};

/// The response of the layers to a source harmonic that is 1 at the outermost face.
struct LayersAnswer {
  Complex answer;                ///< falling wave outside, at the outermost face
  std::vector<Complex> slope;    ///< (d(r A)/dr)/(mu_r A) = mu0 r H/A at each layer's outer face
  std::vector<Complex> at_face;  ///< A at each layer's outer face
};

/// `outside`: slopes of the source and of the answer just outside, in growing_b and falling_b. Of
/// the waves of the first layer only growing_b is used.
LayersAnswer answer_of_layers(const std::vector<Layer>& layers,
                              const std::vector<LayerWaves>& waves, const LayerWaves& outside);

}  // namespace cw::reference
