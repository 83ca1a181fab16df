#pragma once

#include <string>
#include <vector>

#include "postproc/result/metals.hpp"

namespace cw {

/// Why the metal takes its share of the power at the case's frequency, in one sentence; every
/// number in it was computed in this run. The power of a thick part is scaled from the non-magnetic
/// metal with the thinnest skin: as long as the skin is thin, power is proportional to surface
/// resistance.
std::string metal_reason(const MetalComparison& all, const MetalCurve& metal);

/// The best, the best non-magnetic one, the one thinnest relative to its skin depth, an aluminium,
/// the case's own and the worst; each once, in the order of the comparison.
std::vector<const MetalCurve*> notable_metals(const MetalComparison& all);

}  // namespace cw
