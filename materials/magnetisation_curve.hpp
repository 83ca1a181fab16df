#pragma once

#include <optional>
#include <string>
#include <vector>

#include "materials/material.hpp"

namespace cw {

/// All faults of a measured B(H) curve (peak values), one sentence each; empty if it can be used.
std::vector<std::string> faults_of(const MagnetisationCurve& curve);

/// The Froehlich-Kennelly curve through measured points: H/J = (H + a)/Js, least squares of H/J on
/// H over the points with H > 0. Fills saturation and half field; nothing if the curve does not
/// bend towards saturation. Source: Kennelly 1891, Trans. AIEE 8, 485 (from memory).
std::optional<Magnetisation> froehlich_fit(const MagnetisationCurve& curve);

}  // namespace cw
