#include <algorithm>
#include <cmath>

#include "postproc/picture/canvas.hpp"
#include "postproc/picture/coverage.hpp"
#include "postproc/picture/letters.hpp"

namespace cw {

namespace {

struct Sheet {
  Raster& raster;
  Coverage& pen;
  double scale = 1.0;
};

std::vector<Line> scaled_lines(const std::vector<Line>& lines, double scale) {
  std::vector<Line> out = lines;
  for (auto& line : out) {
    for (auto& p : line) p = {scale * p.x, scale * p.y};
  }
  return out;
}

/// Cuts a line into dashes as long as the gaps between them.
std::vector<Line> dashed(const Line& line, double dash) {
  std::vector<Line> dashes;
  double left = dash;
  bool pen_down = true;
  Line current = {line.front()};
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    Spot at = line[i];
    double rest = std::hypot(line[i + 1].x - at.x, line[i + 1].y - at.y);
    while (rest > 0.0) {
      const double step = std::min(left, rest);
      const double share = step / rest;
      at = {at.x + share * (line[i + 1].x - at.x), at.y + share * (line[i + 1].y - at.y)};
      current.push_back(at);
      rest -= step;
      left -= step;
      if (left > 0.0) continue;
      if (pen_down) dashes.push_back(current);
      pen_down = !pen_down;
      left = dash;
      current = {at};
    }
  }
  if (pen_down && current.size() > 1) dashes.push_back(current);
  return dashes;
}

void draw(const Drawn& drawn, const Sheet& sheet) {
  const std::vector<Line> lines = scaled_lines(drawn.lines, sheet.scale);
  if (drawn.fill) {
    sheet.pen.fill(lines);
    sheet.pen.paint(*drawn.fill);
  }
  if (!drawn.stroke) return;
  const double width = drawn.stroke->width * sheet.scale;
  for (auto line : lines) {
    if (line.empty()) continue;
    if (!drawn.stroke->dash) {
      sheet.pen.stroke(line, drawn.closed, width);
      continue;
    }
    if (drawn.closed) line.push_back(line.front());
    for (const auto& dash : dashed(line, *drawn.stroke->dash * sheet.scale))
      sheet.pen.stroke(dash, false, width);
  }
  sheet.pen.paint(drawn.stroke->colour);
}

/// Calls visit(column, row, share) for every covered pixel of the text.
template <class Visit>
void each_pixel(const Letters& letters, const Written& written, double scale, Visit visit) {
  const auto& style = written.style;
  const double back = style.anchor == Anchor::start    ? 0.0
                      : style.anchor == Anchor::middle ? 0.5
                                                       : 1.0;
  const int along = static_cast<int>(std::lround(back * letters.width));
  const int x = static_cast<int>(std::lround(written.at.x * scale)),
            y = static_cast<int>(std::lround(written.at.y * scale));
  auto pixel = letters.coverage.begin();
  for (int row = 0; row < letters.height; ++row) {
    for (int column = 0; column < letters.width; ++column) {
      const double share = *pixel++ / 255.0;
      if (share <= 0.0) continue;
      const int right = column - along, up = letters.base - 1 - row;
      if (style.upright) {
        visit(x - 1 - up, y - 1 - right, share);
      } else {
        visit(x + right, y - 1 - up, share);
      }
    }
  }
}

void draw(const Written& written, const Sheet& sheet) {
  const Letters letters =
      render_letters(written.text, written.style.size * sheet.scale, written.style.bold);
  if (written.style.halo) {
    const int rim = static_cast<int>(std::lround(1.5 * sheet.scale));
    each_pixel(letters, written, sheet.scale, [&](int column, int row, double share) {
      for (int dy = -rim; dy <= rim; ++dy) {
        for (int dx = -rim; dx <= rim; ++dx) {
          const double far = std::hypot(dx, dy) - rim;
          sheet.pen.cover(column + dx, row + dy, share * std::clamp(0.5 - far, 0.0, 1.0));
        }
      }
    });
    sheet.pen.paint({255, 255, 255});
  }
  each_pixel(letters, written, sheet.scale,
             [&](int column, int row, double share) { sheet.pen.cover(column, row, share); });
  sheet.pen.paint(written.style.colour);
}

void draw(const Pasted& pasted, const Sheet& sheet) {
  const double s = sheet.scale;
  const int left = std::max(0, static_cast<int>(std::lround(pasted.corner.x * s)));
  const int top = std::max(0, static_cast<int>(std::lround(pasted.corner.y * s)));
  const int right = std::min(sheet.raster.width,
                             static_cast<int>(std::lround((pasted.corner.x + pasted.width) * s)));
  const int below = std::min(sheet.raster.height,
                             static_cast<int>(std::lround((pasted.corner.y + pasted.height) * s)));
  for (int row = top; row < below; ++row) {
    const double v = ((row + 0.5) / s - pasted.corner.y) / pasted.height * pasted.raster.height;
    for (int column = left; column < right; ++column) {
      const double u = ((column + 0.5) / s - pasted.corner.x) / pasted.width * pasted.raster.width;
      const auto* from =
          pasted.raster.pixel(std::clamp(static_cast<int>(u), 0, pasted.raster.width - 1),
                              std::clamp(static_cast<int>(v), 0, pasted.raster.height - 1));
      auto* to = sheet.raster.pixel(column, row);
      for (int k = 0; k < 3; ++k)
        to[k] = static_cast<std::uint8_t>(to[k] + (from[k] - to[k]) * from[3] / 255);
    }
  }
}

}  // namespace

Raster raster_of(const Canvas& canvas, double scale) {
  Raster raster(static_cast<int>(std::lround(canvas.width * scale)),
                static_cast<int>(std::lround(canvas.height * scale)));
  std::fill(raster.rgba.begin(), raster.rgba.end(), std::uint8_t{255});
  Coverage pen(raster);
  const Sheet sheet{raster, pen, scale};
  for (const auto& item : canvas.items) {
    std::visit([&](const auto& what) { draw(what, sheet); }, item);
  }
  return raster;
}

}  // namespace cw
