#pragma once

#include "mesh/sizing.hpp"
#include "solver/field/permeability.hpp"

namespace cw {

/// Skin depth [m] for which to make the layers of a saturating body (SectionRegion::skin_depth):
/// that at a quarter of the highest field at its surface [A/m] rms. Permeability rises inwards as
/// the field falls, so the whole skin is only some 1.5 surface depths deep. Layers for the initial
/// permeability of cold steel would be too thin to reach through the skin of a strong field.
double layering_skin_depth(const EffectiveReluctivity& law, double share, double conductivity,
                           Frequency f, double surface_field_rms);

/// The sizing with layers that grow more slowly and extend to ten skin depths: the field of a
/// saturating skin ends in a front, not in an exponential tail.
Sizing for_saturation(Sizing sizing);

}  // namespace cw
