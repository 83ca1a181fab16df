#pragma once

#include <optional>

#include "postproc/picture/colour_bars.hpp"
#include "postproc/picture/sheet.hpp"

namespace cw {

/// The outermost layer of the workpiece, magnified only across the layer.
struct SkinStrip {
  double surface = 0.0;  ///< largest radius of the workpiece [m]
  double depth = 0.0;    ///< shown below it [m]
};

/// The strip, if the skin depth where the workpiece is heated most would be thinner than a line in
/// the picture; else nothing.
std::optional<SkinStrip> thin_skin(const PictureInput& input, const Frame& frame);

/// Width of a strip with the room round it [points].
inline constexpr double strip_room = 160.0;

/// The layer at the heights of the section, without other bodies.
FieldSamples skin_samples(const PictureInput& input, const Frame& frame, const SkinStrip& strip);

/// The whole decade of power density that at most a twentieth of the layer exceeds [W/m^3].
double strip_top(const FieldSamples& skin);

/// Draws it beside the section, from `left` on [points], with the scale of the right half.
void draw_skin_strip(Canvas& canvas, const Frame& frame, const SkinStrip& strip, double left,
                     const Raster& seen);

}  // namespace cw
