#pragma once

#include "materials/quantity.hpp"

namespace cw {

/// Temperature at which soft solder begins to melt: Sn63Pb37, eutectic, 183 degC (ASTM B32, from
/// memory); the lowest of the common solders. Joints have no strength near it.
inline constexpr Temperature solder_softens = Temperature::celsius(183.0);

}  // namespace cw
