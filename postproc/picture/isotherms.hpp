#pragma once

#include <vector>

#include "postproc/picture/sheet.hpp"

namespace cw {

/// The isotherms of a heat picture on its left half, as lines on a white rim: full for the target,
/// dashed for the others. Returns what to write beside them and where they lie.
std::vector<Callout> draw_isotherms(Canvas& canvas, const Frame& frame, const PictureInput& input,
                                    const FieldSamples& samples);

/// What is written beside an isotherm: "target 820 °C".
std::string isotherm_label(const Isotherm& isotherm);

}  // namespace cw
