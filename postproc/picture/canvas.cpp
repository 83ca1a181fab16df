#include "postproc/picture/canvas.hpp"

#include <cassert>
#include <utility>

namespace cw {

Raster::Raster(int columns, int rows)
    : width(columns),
      height(rows),
      rgba(4 * static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows), 0) {
  assert(columns > 0 && rows > 0);
}

std::uint8_t* Raster::pixel(int column, int row) {
  return rgba.data() + 4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                            static_cast<std::size_t>(column));
}

const std::uint8_t* Raster::pixel(int column, int row) const {
  return rgba.data() + 4 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(width) +
                            static_cast<std::size_t>(column));
}

void Canvas::line(Line points, const Stroke& stroke) {
  items.emplace_back(Drawn{{std::move(points)}, false, {}, stroke});
}

void Canvas::rectangle(Spot corner, double w, double h, Drawn style) {
  const double right = corner.x + w, below = corner.y + h;
  style.lines = {{corner, {right, corner.y}, {right, below}, {corner.x, below}}};
  style.closed = true;
  items.emplace_back(std::move(style));
}

void Canvas::text(Spot at, std::string words, const Lettering& style) {
  items.emplace_back(Written{at, std::move(words), style});
}

}  // namespace cw
