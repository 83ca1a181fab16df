#include "tests/accuracy/random_work.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "materials/library.hpp"

namespace cw::accuracy {

namespace {

constexpr double hair = 0.2;  // [mm] the thinnest wall, slot and gap drawn on purpose

/// Everything in the library that conducts.
const std::vector<std::string>& metals() {
  static const std::vector<std::string> all = [] {
    std::vector<std::string> names = material_names();
    std::erase_if(names, [](const std::string& name) { return find_material(name).insulator(); });
    return names;
  }();
  return all;
}

const std::vector<std::string> insulators{"ceramic-fibre", "quartz", "alumina"};

/// From a cold workshop to just below melting, or to the end of the data for resistivity [degC].
double random_degrees(Draw& draw, const std::string& material) {
  const Material metal = find_material(material);
  const Law& known = metal.resistivity;
  const double top = metal.melting                  ? metal.melting->solidus.kelvin - 5
                     : known.highest > known.lowest ? std::min(known.highest, 3000.0)
                                                    : 1300.0;
  return std::round(draw.between(0, top - 273.15));
}

std::string uniform(double degrees) {
  return fmt::format("temperature = \"{:.0f} degC\"\n", degrees);
}

/// Nothing, a hair, or some of `size`.
double random_gap(Draw& draw, double size) {
  const int kind = draw.below(3);
  return kind == 0 ? 0.0 : on_grid(kind == 1 ? hair : draw.over_decades(0.02, 0.5) * size);
}

/// A wall in a radius: a hair, or a share of it.
double random_wall(Draw& draw, double radius) {
  const double share = draw.over_decades(0.02, 0.98);
  return on_grid(draw.chance(0.25) ? std::min(hair, 0.5 * radius) : share * radius);
}

/// Wall and profile of a workpiece of this kind.
class Shape {
 public:
  Shape(Draw& draw, Part& part) : draw_(draw), part_(part), r_(part.outer), h_(part.high) {}

  double stepped() {
    const double neck = share(r_, 0.2, 0.95), step = share(h_, 0.1, 0.9);
    part_.profile = {{0, 0}, {r_, 0}, {r_, step}, {neck, step}, {neck, h_}, {0, h_}};
    return neck;
  }
  double pointed() {
    const double shoulder = std::max(share(h_, 0.02, 0.9), on_grid(h_ - 5 * r_));
    part_.profile = {{0, 0}, {r_, 0}, {r_, shoulder}, {0, h_}};
    return r_;
  }
  double reentrant() {
    const double core = share(r_, 0.1, 0.95), low = share(h_, 0.1, 0.6);
    const double slot = draw_.chance(0.4) ? std::min(hair, 0.2 * h_) : share(h_, 0.02, 0.3);
    const double high = on_grid(low + slot);
    part_.profile = {{0, 0},       {r_, 0},    {r_, low}, {core, low},
                     {core, high}, {r_, high}, {r_, h_},  {0, h_}};
    return core;
  }
  double tube() {
    const double wall = random_wall(draw_, r_);
    part_.inner = on_grid(r_ - wall);
    return wall;
  }
  double cup() {
    const double wall = random_wall(draw_, r_), floor = std::min(wall, share(h_, 0.1, 0.5));
    const double inner = on_grid(r_ - wall);
    part_.profile = {{0, 0}, {r_, 0}, {r_, h_}, {inner, h_}, {inner, floor}, {0, floor}};
    return wall;
  }

 private:
  double share(double of, double least, double most) {
    return on_grid(of * draw_.between(least, most));
  }

  Draw& draw_;
  Part& part_;
  double r_, h_;
};

void add_workpiece(Draw& draw, Work& work) {
  const std::vector<std::string> kinds{"rod",     "rod",     "tube",       "tube",
                                       "stepped", "pointed", "re-entrant", "cup"};
  Part piece{.name = "", .material = draw.of(metals())};
  work.kind = draw.of(kinds);
  piece.outer = on_grid(0.5 * draw.over_decades(1, 200));
  // Five metres are the largest length that a case may have.
  piece.high = on_grid(std::min(2 * piece.outer * draw.over_decades(0.2, 100), 4990.0));
  Shape shape(draw, piece);
  work.thickness = work.kind == "tube"         ? shape.tube()
                   : work.kind == "stepped"    ? shape.stepped()
                   : work.kind == "pointed"    ? shape.pointed()
                   : work.kind == "re-entrant" ? shape.reentrant()
                   : work.kind == "cup"        ? shape.cup()
                                               : piece.outer;
  if (work.kind == "rod" && piece.high < 2 * piece.outer) work.kind = "disc";
  work.degrees = random_degrees(draw, piece.material);
  piece.temperature = uniform(work.degrees);
  if (draw.chance(0.1))
    piece.temperature = fmt::format(
        "temperature_profile = [[\"0 mm\", \"{:.0f} degC\"], [\"{:.3f} mm\", \"{:.0f} degC\"]]\n",
        work.degrees, std::max(0.1, work.thickness * draw.between(0.1, 1)),
        random_degrees(draw, piece.material));
  work.outer = piece.outer;
  work.high = piece.high;
  work.parts.push_back(std::move(piece));
}

void add(Draw& draw, Work& work, Part part, const std::string& kind) {
  part.temperature = uniform(random_degrees(draw, part.material));
  work.low = std::min(work.low, part.low);
  work.high = std::max(work.high, part.high);
  work.outer = std::max(work.outer, part.outer);
  work.parts.push_back(std::move(part));
  add_kind(work.bodies, kind);
}

/// A charge that fills a cup or a tube, to some height.
void add_charge(Draw& draw, Work& work) {
  const Part& piece = work.parts.front();
  const bool cup = work.kind == "cup";
  const double inside = cup ? piece.profile[3].r : piece.inner;
  const double floor = cup ? piece.profile[4].z : on_grid(piece.high * draw.between(0, 0.3));
  const double slack = std::min(random_gap(draw, inside), on_grid(0.5 * inside));
  Part charge{.name = "charge", .material = draw.of(metals()), .useful = draw.chance(0.5)};
  charge.outer = on_grid(inside - slack);
  charge.low =
      cup ? on_grid(floor + random_gap(draw, std::min(0.3 * (piece.high - floor), inside))) : floor;
  charge.high = on_grid(charge.low + (piece.high - floor) * draw.between(0.2, 1.1));
  add(draw, work, charge, "charge");
}

void add_sleeve(Draw& draw, Work& work) {
  const bool fibre = draw.chance(0.5);
  Part sleeve{.name = "sleeve", .material = draw.of(fibre ? insulators : metals())};
  sleeve.inner = on_grid(work.outer + random_gap(draw, work.outer));
  const double wall = draw.chance(0.3) ? hair : draw.over_decades(0.02, 0.6) * work.outer;
  sleeve.outer = on_grid(sleeve.inner + std::max(wall, 0.05));
  sleeve.low = on_grid(work.high * draw.between(-0.3, 0.4));
  sleeve.high = on_grid(work.high * draw.between(0.6, 1.3));
  add(draw, work, sleeve, fibre ? "fibre" : "sleeve");
}

/// A second part on top: touching, nearly touching, or at a distance.
void add_second(Draw& draw, Work& work) {
  Part second{.name = "second", .material = draw.of(metals())};
  second.outer = on_grid(work.outer * draw.over_decades(0.3, 1));
  if (draw.chance(0.3)) second.inner = on_grid(second.outer * draw.between(0.1, 0.9));
  second.low = on_grid(work.high + random_gap(draw, 2 * work.outer));
  second.high = on_grid(second.low + 2 * second.outer * draw.over_decades(0.1, 5));
  add(draw, work, second, "second part");
}

std::string corners(const std::vector<Corner>& profile, double shift) {
  std::string list;
  for (const Corner& c : profile)
    list +=
        fmt::format("{}[\"{:.3f} mm\", \"{:.3f} mm\"]", list.empty() ? "" : ", ", c.r, c.z + shift);
  return list;
}

}  // namespace

void add_kind(std::string& bodies, const std::string& kind) {
  bodies = bodies == "none" ? kind : "several";
}

std::string written(const Part& part, double shift) {
  std::string text = part.name.empty() ? std::string("[workpiece]\n")
                                       : fmt::format("[[body]]\nname = \"{}\"\n", part.name);
  text += fmt::format("material = \"{}\"\n", part.material);
  if (!part.profile.empty()) {
    text += fmt::format("profile = [{}]\n", corners(part.profile, shift));
  } else {
    text += fmt::format("diameter = \"{:.3f} mm\"\n", 2 * part.outer);
    if (part.inner > 0) text += fmt::format("bore = \"{:.3f} mm\"\n", 2 * part.inner);
    text += fmt::format("length = \"{:.3f} mm\"\ncentre = \"{:.4f} mm\"\n", part.high - part.low,
                        (part.high + part.low) / 2 + shift);
  }
  if (part.useful) text += "useful = true\n";
  return text + part.temperature;
}

Work random_work(Draw& draw) {
  Work work{.kind = "none", .bodies = "none"};
  if (draw.chance(0.02)) return work;  // the empty coil
  add_workpiece(draw, work);
  const bool hollow = work.kind == "cup" || work.kind == "tube";
  if (hollow && draw.chance(0.4)) add_charge(draw, work);
  if (draw.chance(0.25)) add_sleeve(draw, work);
  if (draw.chance(0.15)) add_second(draw, work);
  return work;
}

}  // namespace cw::accuracy
