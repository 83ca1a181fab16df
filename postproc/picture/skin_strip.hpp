#pragma once

#include <optional>

#include "postproc/picture/colour_bars.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw {

/// The outermost layer of the workpiece, magnified across and not along.
struct SkinStrip {
  double surface = 0.0;  ///< largest radius of the workpiece [m]
  double depth = 0.0;    ///< shown below it [m]
};

/// What a strip would show where the skin depth, taken where the workpiece is heated hardest, is
/// drawn thinner than a line; else nothing.
std::optional<SkinStrip> thin_skin(const PictureInput& input, const Frame& frame);

/// Width of a strip with the room round it [points].
inline constexpr double strip_room = 160.0;

/// The layer at the heights of the section; of other bodies nothing.
FieldSamples skin_samples(const PictureInput& input, const Frame& frame, const SkinStrip& strip);

/// The whole decade of power density that at most a twentieth of the layer lies above [W/m^3].
double strip_top(const FieldSamples& skin);

/// Draws it beside the section, from `left` on [points], with the scale of the right half.
void draw_skin_strip(Canvas& canvas, const Frame& frame, const SkinStrip& strip, double left,
                     const Raster& seen);

}  // namespace cw
