#pragma once

#include <string>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// The one map of fields: paper white for nothing to dark indigo for the most. Lightness falls on a
/// straight line in OKLab, so the order survives grey print and colour-blind eyes; hue turns from
/// straw through teal to indigo. `share` from 0 to 1; beyond, the end colours.
Colour field_colour(double share);

/// The map of temperatures, hot is bright: "inferno" by S. van der Walt and N. Smith (2015, CC0),
/// even in lightness and told apart by colour-blind eyes, from a tenth of it upwards: its black
/// would be taken for ink. `share` from 0 to 1; beyond, the end colours.
Colour heat_colour(double share);

/// Perceived lightness of a colour, 0 (black) to 1 (white): L of OKLab.
double lightness(const Colour& colour);

/// As a page and a drawing write it: "#1c2026".
std::string colour_code(const Colour& colour);

/// Limits and nothing else.
inline constexpr Colour accent{196, 62, 28};

inline constexpr Colour ink{28, 32, 38};
inline constexpr Colour faint_ink{96, 104, 114};

}  // namespace cw
