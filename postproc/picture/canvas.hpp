#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace cw {

/// A point on the sheet [points], y downwards.
struct Spot {
  double x = 0.0, y = 0.0;
  friend bool operator==(const Spot&, const Spot&) = default;
};

struct Colour {
  std::uint8_t red = 0, green = 0, blue = 0;
  double opacity = 1.0;
};

/// Eight-bit RGBA, rows from the top.
struct Raster {
  int width = 0, height = 0;
  std::vector<std::uint8_t> rgba;  ///< 4 width height

  Raster() = default;
  Raster(int columns, int rows);  ///< transparent
  [[nodiscard]] std::uint8_t* pixel(int column, int row);
  [[nodiscard]] const std::uint8_t* pixel(int column, int row) const;
};

struct Stroke {
  Colour colour;
  double width = 1.0;
  std::optional<double> dash;  ///< length of dash and of gap; left out: a solid line
};

using Line = std::vector<Spot>;

/// Lines of one pen, or closed outlines filled by the even-odd rule.
struct Drawn {
  std::vector<Line> lines;
  bool closed = false;
  std::optional<Colour> fill;
  std::optional<Stroke> stroke;
};

enum class Anchor { start, middle, end };

struct Lettering {
  double size = 12.0;  ///< em [points]
  Anchor anchor = Anchor::start;
  Colour colour;
  bool bold = false;
  bool upright = false;  ///< reads from below upwards
  bool halo = false;     ///< white outline, to stay readable on a field
};

/// A line of text; `at` is on its base line.
struct Written {
  Spot at;
  std::string text;
  Lettering style;
};

/// A raster stretched over a rectangle.
struct Pasted {
  Spot corner;
  double width = 0.0, height = 0.0;
  Raster raster;
};

/// A sheet as a list of drawing operations, in order. Two writers turn it into a file, so both show
/// the same.
struct Canvas {
  double width = 0.0, height = 0.0;
  std::vector<std::variant<Drawn, Written, Pasted>> items;

  void line(Line points, const Stroke& stroke);
  void rectangle(Spot corner, double w, double h, Drawn style);
  void text(Spot at, std::string words, const Lettering& style);
};

/// The sheet as one self-contained SVG file; rasters are embedded.
std::string svg_of(const Canvas& canvas);

/// The sheet as pixels, `scale` per point, on white.
Raster raster_of(const Canvas& canvas, double scale);

}  // namespace cw
