#pragma once

#include <string>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// The colour map of fields: from paper white for zero to dark indigo for the maximum. Lightness
/// falls linearly in OKLab, so the order survives grey print and colour-blind eyes; hue turns from
/// straw through teal to indigo. `share` from 0 to 1; beyond, the end colours.
Colour field_colour(double share);

/// The colour map of temperatures, hot is bright: "inferno" by S. van der Walt and N. Smith (2015,
/// CC0), even in lightness and distinct for colour-blind eyes. Used from a tenth of it upwards: its
/// black would look like ink. `share` from 0 to 1; beyond, the end colours.
Colour heat_colour(double share);

/// Perceived lightness of a colour, 0 (black) to 1 (white): L of OKLab.
double lightness(const Colour& colour);

/// As written in pages and drawings: "#1c2026".
std::string colour_code(const Colour& colour);

/// For limits and nothing else.
inline constexpr Colour accent{196, 62, 28};

inline constexpr Colour ink{28, 32, 38};
inline constexpr Colour faint_ink{96, 104, 114};

}  // namespace cw
