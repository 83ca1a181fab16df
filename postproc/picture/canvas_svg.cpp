#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "postproc/picture/canvas.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/png.hpp"

namespace cw {

namespace {

std::string svg_escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        // XML does not allow control characters.
        if ((c >= 0 && c < ' ' && c != '\t' && c != '\n') || c == '\x7f')
          out += "\uFFFD";
        else
          out += c;
    }
  }
  return out;
}

/// Hundredths of a point are too small to see.
std::string svg_number(double value) {
  std::string text = fmt::format("{:.2f}", value);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text == "-0" ? "0" : text;
}

std::string paint(const char* what, const Colour& c) {
  std::string text = fmt::format(" {}=\"{}\"", what, colour_code(c));
  if (c.opacity < 1.0) text += fmt::format(" {}-opacity=\"{}\"", what, svg_number(c.opacity));
  return text;
}

/// Distance of `p` from the stretch between `a` and `b` [points].
double off(const Spot& p, const Spot& a, const Spot& b) {
  const double x = b.x - a.x, y = b.y - a.y, square = x * x + y * y;
  const double along = square > 0.0 ? ((p.x - a.x) * x + (p.y - a.y) * y) / square : 0.0;
  const double s = std::clamp(along, 0.0, 1.0);
  return std::hypot(p.x - a.x - s * x, p.y - a.y - s * y);
}

/// Leaves out points of a long line that are within a twentieth of a point of it: the difference is
/// invisible, and they are most of a file. Source of the method: D. Douglas, T. Peucker,
/// Cartographica 10 (1973) 112 (from memory).
Line lightened(const Line& line) {
  constexpr std::size_t few = 40;
  constexpr double unseen = 0.05;
  if (line.size() <= few) return line;
  std::vector<char> kept(line.size(), 0);
  kept.front() = kept.back() = 1;
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, line.size() - 1}};
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    std::size_t farthest = from;
    double most = unseen;
    for (std::size_t k = from + 1; k < to; ++k)
      if (const double d = off(line[k], line[from], line[to]); d > most) {
        most = d;
        farthest = k;
      }
    if (farthest == from) continue;
    kept[farthest] = 1;
    open.emplace_back(from, farthest);
    open.emplace_back(farthest, to);
  }
  Line light;
  for (std::size_t k = 0; k < line.size(); ++k)
    if (kept[k] != 0) light.push_back(line[k]);
  return light;
}

/// Steps from point to point, each from the rounded position of the last, so that rounding errors
/// do not add up. Long lines make up most of a file, so tenths are used for them.
std::string path_data(const Drawn& drawn) {
  std::string d;
  for (const auto& whole : drawn.lines) {
    const double grain = whole.size() > 40 ? 0.1 : 0.01;
    const Line line = lightened(whole);
    const auto rounded = [&](double v) { return grain * std::round(v / grain); };
    Spot last;
    for (std::size_t i = 0; i < line.size(); ++i) {
      const Spot at{rounded(line[i].x), rounded(line[i].y)};
      if (i == 0)
        d += fmt::format("M{} {}", svg_number(at.x), svg_number(at.y));
      else if (at != last)
        d += fmt::format("l{} {}", svg_number(at.x - last.x), svg_number(at.y - last.y));
      last = at;
    }
    if (drawn.closed) d += "Z";
  }
  return d;
}

std::string element(const Drawn& drawn) {
  std::string text = fmt::format("<path d=\"{}\"", path_data(drawn));
  text += drawn.fill ? paint("fill", *drawn.fill) + " fill-rule=\"evenodd\"" : " fill=\"none\"";
  if (drawn.stroke) {
    text += paint("stroke", drawn.stroke->colour);
    text += fmt::format(" stroke-width=\"{}\" stroke-linejoin=\"round\" stroke-linecap=\"round\"",
                        svg_number(drawn.stroke->width));
    if (drawn.stroke->dash)
      text += fmt::format(" stroke-dasharray=\"{}\"", svg_number(*drawn.stroke->dash));
  }
  return text + "/>\n";
}

std::string element(const Written& written) {
  const auto& style = written.style;
  const char* anchor = style.anchor == Anchor::start    ? "start"
                       : style.anchor == Anchor::middle ? "middle"
                                                        : "end";
  std::string text = fmt::format("<text x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\"",
                                 svg_number(written.at.x), svg_number(written.at.y),
                                 svg_number(style.size), anchor);
  text += paint("fill", style.colour);
  if (style.bold) text += " font-weight=\"bold\"";
  if (style.halo)
    text +=
        " stroke=\"#ffffff\" stroke-width=\"3\" stroke-linejoin=\"round\" paint-order=\"stroke\"";
  if (style.upright)
    text += fmt::format(" transform=\"rotate(-90 {} {})\"", svg_number(written.at.x),
                        svg_number(written.at.y));
  return text + fmt::format(">{}</text>\n", svg_escaped(written.text));
}

std::string element(const Pasted& pasted) {
  return fmt::format(
      "<image x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" preserveAspectRatio=\"none\" "
      "href=\"data:image/png;base64,{}\"/>\n",
      svg_number(pasted.corner.x), svg_number(pasted.corner.y), svg_number(pasted.width),
      svg_number(pasted.height), base64(png_of(pasted.raster)));
}

}  // namespace

std::string svg_of(const Canvas& canvas) {
  std::string text = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}\" height=\"{1}\" viewBox=\"0 0 {0} "
      "{1}\" font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n"
      "<rect width=\"{0}\" height=\"{1}\" fill=\"#ffffff\"/>\n",
      svg_number(canvas.width), svg_number(canvas.height));
  for (const auto& item : canvas.items) {
    text += std::visit([](const auto& what) { return element(what); }, item);
  }
  return text + "</svg>\n";
}

}  // namespace cw
