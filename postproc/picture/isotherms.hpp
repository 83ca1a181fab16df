#pragma once

#include <vector>

#include "postproc/picture/sheet.hpp"

namespace cw {

/// Draws the isotherms of a heat picture on its left half, as lines with a white outline: solid for
/// the target, dashed for the others. Returns their labels and the points to which these refer.
std::vector<Callout> draw_isotherms(Canvas& canvas, const Frame& frame, const PictureInput& input,
                                    const FieldSamples& samples);

/// The label of an isotherm: "target 820 °C".
std::string isotherm_label(const Isotherm& isotherm);

}  // namespace cw
