#pragma once

#include <string>
#include <vector>

#include "postproc/result/metals.hpp"

namespace cw {

/// Why the metal takes the share of power it takes at the case's frequency, in one sentence; every
/// number in it was computed in this run. What a thick part would take is scaled from the metal
/// with the thinnest skin among the non-magnetic ones: power goes with surface resistance as long
/// as the skin is thin.
std::string metal_reason(const MetalComparison& all, const MetalCurve& metal);

/// Best, best without magnetism, the least thick against its skin, an aluminium, the case's own and
/// the worst; each once, in the order of the comparison.
std::vector<const MetalCurve*> notable_metals(const MetalComparison& all);

}  // namespace cw
