#pragma once

#include <string>

#include "postproc/picture/canvas.hpp"

namespace cw {

/// A line of text as coverage, 0 to 255 per pixel, rows from the top.
struct Letters {
  int width = 0, height = 0;
  int base = 0;                        ///< rows from the top to the base line
  std::vector<std::uint8_t> coverage;  ///< width height
};

/// Renders UTF-8 text at `size` pixels per em. Uses DejaVu Sans if it is installed, else a built-in
/// font.
Letters render_letters(const std::string& text, double size, bool bold);

/// Width of the text on the sheet [points].
double text_width(const std::string& text, const Lettering& style);

}  // namespace cw
