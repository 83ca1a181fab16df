#include "tests/accuracy/random_coil.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace cw::accuracy {

namespace {

/// A conductor as in the file, and its outer size [mm].
struct Metal {
  std::string kind, text;
  double radial = 0.0, axial = 0.0;
};

Metal strands(Draw& draw, double size) {
  const double strand = draw.over_decades(0.05, std::min(0.5, 0.3 * size));
  const int count =
      std::max(2, static_cast<int>(draw.between(0.3, 0.75) * std::pow(size / strand, 2)));
  return {"strands",
          fmt::format("strands = {}, strand = \"{:.3f} mm\", bundle = \"{:.3f} mm\"", count, strand,
                      size),
          size, size};
}

Metal bar(Draw& draw, double size, bool hollow) {
  const double radial = on_grid(size * draw.over_decades(0.4, 1.5)),
               axial = on_grid(size * draw.over_decades(0.4, 2.5));
  std::string text = fmt::format("bar = [\"{:.3f} mm\", \"{:.3f} mm\"]", radial, axial);
  if (hollow)
    text += fmt::format(", wall = \"{:.3f} mm\"",
                        std::max(0.05, std::min(radial, axial) * draw.over_decades(0.06, 0.45)));
  return {hollow ? "hollow bar" : "solid bar", text, radial, axial};
}

Metal random_metal(Draw& draw, double size) {
  switch (draw.below(5)) {
    case 0:
      return {"wire", fmt::format("wire = \"{:.3f} mm\"", size), size, size};
    case 1:
      return bar(draw, size, false);
    case 2:
      return bar(draw, size, true);
    case 3:
      return strands(draw, size);
    default:
      return {"tube",
              fmt::format("tube = \"{:.3f} mm\", wall = \"{:.3f} mm\"", size,
                          std::max(0.05, size * draw.over_decades(0.05, 0.45))),
              size, size};
  }
}

/// Clear diameter of a coil round the work [mm]; at most the largest that a case may have.
double random_bore(Draw& draw, const Work& work) {
  if (work.kind == "none") return on_grid(draw.over_decades(5, 300));
  const double wide = 2 * work.outer;
  return on_grid(draw.chance(0.15) ? wide + 0.4
                                   : std::min(wide * draw.over_decades(1.1, 20), 1990.0));
}

/// 1 to 20, every third with a part of a turn.
double random_turns(Draw& draw) {
  const double whole = std::floor(draw.over_decades(1, 20.99));
  return draw.chance(1.0 / 3) ? std::min(20.0, whole + 0.05 * std::round(draw.between(2, 18)))
                              : whole;
}

/// Turns at explicit places: in one layer or two, with varying distances, in two groups.
std::string rings(Draw& draw, const Metal& metal, double bore) {
  const int count = static_cast<int>(draw.over_decades(1, 12.99));
  const bool layers = draw.chance(0.3), groups = draw.chance(0.3);
  const double next = draw.over_decades(0.1, 1.5 * metal.axial);
  std::string list;
  double z = 0;
  for (int k = 0; k < count; ++k) {
    const double r = 0.5 * (bore + metal.radial) + draw.between(0, 0.2) * metal.radial +
                     (layers && k % 2 == 1 ? 1.3 * metal.radial : 0);
    list += fmt::format("{}{{ r = \"{:.3f} mm\", z = \"{:.3f} mm\" }}", k > 0 ? ",\n        " : "",
                        r, z);
    z += metal.axial + next * draw.between(1, 2) + (groups && k == count / 2 ? 0.5 * bore : 0);
  }
  return fmt::format("ring = [{}]\n", list);
}

std::string row(Draw& draw, RandomCoil& coil, const Metal& metal, double bore) {
  const double turns = random_turns(draw);
  const double size = coil.shape == "flat" ? metal.radial : metal.axial;
  const double wider = bore * draw.over_decades(1, 3);
  const bool opens = draw.chance(0.5);
  std::string text = fmt::format("turns = {:.2f}\nbore = \"{:.3f} mm\"\n", turns,
                                 coil.shape == "cone" && !opens ? wider : bore);
  if (coil.shape == "cone") text += fmt::format("bore_end = \"{:.3f} mm\"\n", opens ? wider : bore);
  const double pitch = size + draw.over_decades(0.1, 2 * std::max(size, 0.1));
  if (turns > 1) text += fmt::format("pitch = \"{:.3f} mm\"\n", pitch);
  return text;
}

}  // namespace

RandomCoil random_coil(Draw& draw, const Work& work) {
  const std::vector<std::string> shapes{"helix", "helix", "helix", "flat", "cone", "rings"};
  const std::vector<std::string> coppers{"copper-tube", "copper-tube",    "copper-tube",
                                         "copper-pure", "aluminium-1050", "silver"};
  RandomCoil coil;
  coil.shape = draw.of(shapes);
  coil.before_face = coil.shape == "flat" && work.kind != "none" && draw.chance(0.6);
  const double bore = coil.before_face
                          ? on_grid(std::max(1.0, 2 * work.outer * draw.over_decades(0.1, 2)))
                          : random_bore(draw, work);
  const double least = std::clamp(0.02 * bore, 0.5, 10.0);
  const Metal metal = random_metal(
      draw, on_grid(draw.over_decades(least, std::clamp(0.6 * bore, 2 * least, 40.0))));
  coil.conductor = metal.kind;
  coil.text = fmt::format("[coil]\nshape = \"{}\"\n", coil.shape);
  coil.text += coil.shape == "rings" ? rings(draw, metal, bore) : row(draw, coil, metal, bore);
  coil.text +=
      fmt::format("conductor = {{ {}, material = \"{}\" }}\n", metal.text, draw.of(coppers));
  if (draw.chance(0.3))
    coil.text += fmt::format("leads = {{ length = \"{:.0f} mm\", spacing = \"{:.2f} mm\" }}\n",
                             draw.between(20, 400), metal.radial * draw.between(1.3, 5) + 0.1);
  coil.text += fmt::format("temperature = \"{:.0f} degC\"\n", draw.between(10, 200));
  return coil;
}

}  // namespace cw::accuracy
