#include <fmt/core.h>

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

}  // namespace

std::string coil_dxf(const std::vector<OutlinePiece>& outline) {
  std::string text = group(0, "SECTION") + group(2, "HEADER") + group(9, "$ACADVER") +
                     group(1, "AC1009") + group(0, "ENDSEC") + layer_table() + group(0, "SECTION") +
                     group(2, "ENTITIES");
  for (const OutlinePiece& piece : outline) text += entity(piece);
  return text + group(0, "ENDSEC") + group(0, "EOF");
}

}  // namespace cw
