#include <fmt/core.h>

#include <algorithm>
#include <array>

#include "postproc/making/coil_outline.hpp"

namespace cw {

namespace {

/// Group code and value, each on a line of its own.
std::string group(int code, const std::string& value) {
  return fmt::format("{:>3}\n{}\n", code, value);
}

std::string drawn_number(double metres) {
  return fmt::format("{:.6f}", 1e3 * metres);
}

struct Layer {
  const char* name;
  int colour;  ///< index of the DXF palette: 1 red, 3 green, 5 blue, 7 ink, 8 grey
};
constexpr std::array<Layer, 5> layers{
    {{"COIL", 7}, {"BORE", 8}, {"WORK", 5}, {"AXIS", 1}, {"FORMER", 3}}};

std::string layer_table() {
  std::string text = group(0, "SECTION") + group(2, "TABLES") + group(0, "TABLE") +
                     group(2, "LAYER") + group(70, std::to_string(layers.size()));
  for (const Layer& layer : layers)
    text += group(0, "LAYER") + group(2, layer.name) + group(70, "0") +
            group(62, std::to_string(layer.colour)) + group(6, "CONTINUOUS");
  return text + group(0, "ENDTAB") + group(0, "ENDSEC");
}

std::string entity(const OutlinePiece& p) {
  std::string text = group(0, p.circle ? "CIRCLE" : "LINE") + group(8, p.layer) +
                     group(10, drawn_number(p.x)) + group(20, drawn_number(p.y)) + group(30, "0.0");
  if (p.circle) return text + group(40, drawn_number(p.radius));
  return text + group(11, drawn_number(p.to_x)) + group(21, drawn_number(p.to_y)) +
         group(31, "0.0");
}

struct DrawingBox {
  double left = 1e300, bottom = 1e300, right = -1e300, top = -1e300;
};

DrawingBox box_of(const std::vector<OutlinePiece>& outline) {
  DrawingBox box;
  const auto include = [&](double x, double y) {
    box = {std::min(box.left, x), std::min(box.bottom, y), std::max(box.right, x),
           std::max(box.top, y)};
  };
  for (const OutlinePiece& p : outline) {
    include(p.x - p.radius, p.y - p.radius);
    include(p.x + p.radius, p.y + p.radius);
    if (!p.circle) include(p.to_x, p.to_y);
  }
  return box;
}

}  // namespace

std::string coil_dxf(const std::vector<OutlinePiece>& outline) {
  std::string text = group(0, "SECTION") + group(2, "HEADER") + group(9, "$ACADVER") +
                     group(1, "AC1009") + group(0, "ENDSEC") + layer_table() + group(0, "SECTION") +
                     group(2, "ENTITIES");
  for (const OutlinePiece& piece : outline) text += entity(piece);
  return text + group(0, "ENDSEC") + group(0, "EOF");
}

std::string coil_template(const std::vector<OutlinePiece>& outline) {
  const DrawingBox box = box_of(outline);
  constexpr double margin = 5.0, foot = 16.0;  // [mm]
  const double width = std::max(1e3 * (box.right - box.left), 60.0) + 2 * margin,
               height = 1e3 * (box.top - box.bottom) + 2 * margin + foot;
  const auto x = [&](double metres) {
    return fmt::format("{:.3f}", 1e3 * (metres - box.left) + margin);
  };
  const auto y = [&](double metres) {
    return fmt::format("{:.3f}", 1e3 * (box.top - metres) + margin);
  };
  std::string text = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
      "width=\"{0:.3f}mm\" height=\"{1:.3f}mm\" viewBox=\"0 0 {0:.3f} {1:.3f}\" fill=\"none\" "
      "stroke=\"#1c2026\" stroke-width=\"0.25\" font-family=\"'DejaVu Sans', Verdana, sans-serif\" "
      "font-size=\"3\">\n",
      width, height);
  for (const OutlinePiece& p : outline) {
    const char* dash = p.layer == "AXIS"     ? " stroke-dasharray=\"6 1.5 1 1.5\""
                       : p.layer == "FORMER" ? " stroke-dasharray=\"2 1.5\""
                                             : "";
    text += p.circle ? fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{:.3f}\"{}/>\n", x(p.x), y(p.y),
                                   1e3 * p.radius, dash)
                     : fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>\n", x(p.x),
                                   y(p.y), x(p.to_x), y(p.to_y), dash);
  }
  return text +
         fmt::format(
             "<path d=\"M{0} {1}v4m0 -2h50m0 -2v4\"/>\n<text x=\"{0}\" y=\"{2}\" stroke=\"none\" "
             "fill=\"#1c2026\">must measure 50 mm; dashed circle: former</text>\n</svg>\n",
             margin, height - foot + 2.0, height - 4.0);
}

}  // namespace cw
