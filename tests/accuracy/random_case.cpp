#include "tests/accuracy/random_case.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "cases/read/read_case.hpp"
#include "materials/library.hpp"
#include "solver/heater/rings.hpp"
#include "tests/accuracy/random_coil.hpp"
#include "tests/accuracy/random_work.hpp"

namespace cw::accuracy {

namespace {

constexpr double mm = 1e-3;

/// Frequency, and the approximate current [A] rms.
struct Feed {
  Frequency frequency;
  double current = 0.0;
};

std::string drive(const Feed& feed, const cw::Coil& coil, bool voltage) {
  const double rms =
      voltage ? feed.current * feed.frequency.omega() * cw::rough_inductance(coil) : feed.current;
  return fmt::format("[drive]\nkind = \"{}\"\nfrequency = \"{:.4g} Hz\"\nrms = \"{:.4g} {}\"\n",
                     voltage ? "voltage" : "current", feed.frequency.hertz, rms,
                     voltage ? "V" : "A");
}

/// The coil as the program reads it. Any drive will do: it does not change the coil.
cw::Coil as_read(const RandomCoil& coil) {
  return cases::read_case_text(
             coil.text + "[drive]\nkind = \"current\"\nfrequency = \"1 kHz\"\nrms = \"1 A\"\n",
             "coil.toml")
      .coil;
}

/// Position of the work: how far it is moved up [mm], or how far its lower end is inside the coil.
struct Place {
  double shift = 0.0;
  bool inserted = false;
};

Place random_place(Draw& draw, const Work& work, const cw::CoilExtent& coil, bool before_face) {
  if (before_face)
    return {on_grid(coil.high / mm + draw.over_decades(0.2, std::max(1.0, work.outer))) - work.low};
  const double middle = on_grid((coil.low + coil.high) / 2 / mm);
  switch (draw.below(4)) {
    case 0:  // half in
      return {middle - work.low, work.parts.size() == 1 && draw.chance(0.5)};
    case 1: {
      const double most = 0.35 * ((coil.high - coil.low) / mm + work.high - work.low);
      return {on_grid(middle - (work.low + work.high) / 2 + most * draw.between(-1, 1))};
    }
    default:
      return {on_grid(middle - (work.low + work.high) / 2)};
  }
}

/// A ring of a flux guide below, above or round the coil, at a distance from the work.
Part flux_plate(Draw& draw, double work_outer, const cw::CoilExtent& coil, bool before_face) {
  Part plate{.name = "plate",
             .material = draw.of(std::vector<std::string>{"ferrite", "flux-guide"})};
  const double gap = draw.chance(0.4) ? 0.2 : draw.over_decades(0.2, 10);
  const double thick = on_grid(draw.over_decades(0.5, 10));
  const double low = on_grid(coil.low / mm), high = on_grid(coil.high / mm);
  const int side = draw.below(before_face ? 2 : 3);
  if (side == 0) {  // round it
    plate.inner = on_grid(coil.outer / mm + gap);
    plate.outer = plate.inner + thick;
    plate.low = low;
    plate.high = high;
  } else {
    plate.inner = before_face ? 0.0 : on_grid(work_outer + draw.over_decades(0.2, 5));
    plate.outer = on_grid(std::max(plate.inner + 1, coil.outer / mm * draw.between(0.9, 1.3)));
    plate.low = on_grid(side == 1 ? low - gap - thick : high + gap);
    plate.high = on_grid(plate.low + thick);
  }
  plate.temperature = fmt::format("temperature = \"{:.0f} degC\"\n", draw.between(10, 200));
  return plate;
}

bool saturates(const Material& metal, Temperature t) {
  return metal.magnetisation && metal.magnetisation->saturation_at(t) > 0;
}

/// Skin depth of the workpiece [m], of magnetic metal in the field of the coil taken as a solenoid.
double depth_of(const Work& work, const cw::Coil& coil, const Feed& feed) {
  const Material metal = find_material(work.parts.front().material);
  const Temperature t = Temperature::celsius(work.degrees);
  const cw::CoilExtent e = cw::extent_of(coil);
  double mu = metal.relative_permeability.value;
  if (saturates(metal, t)) {
    const double field = std::numbers::sqrt2 * feed.current * std::max(coil.turns, 1.0) /
                         std::hypot(e.high - e.low, e.inner + e.outer);
    mu = 1 + metal.magnetisation->polarisation(field, t) / (mu0 * field);
  }
  return skin_depth(metal.conductivity(t), mu, feed.frequency);
}

std::string skin_class(double thickness, double depth) {
  return thickness < depth ? "thin" : thickness > 5 * depth ? "thick" : "middle";
}

std::string description(const RandomCase& c, const Work& work, const cw::Coil& coil,
                        const Feed& feed) {
  std::string what = "empty";
  if (work.kind != "none") {
    const Part& piece = work.parts.front();
    what = fmt::format("{} of {} {:.3g} x {:.3g} mm (wall {:.3g}, {:.0f} degC)", work.kind,
                       piece.material, 2 * piece.outer, piece.high, work.thickness, work.degrees);
  }
  return fmt::format(
      "{}; {} {:.3g} turns of {}, bore {:.3g} mm; {:.3g} kHz {:.3g} A {}; bodies: {}", what,
      c.classes.coil, coil.turns, c.classes.conductor, coil.bore / mm, feed.frequency.hertz * 1e-3,
      feed.current, c.classes.drive, c.classes.bodies);
}

std::string written_work(const Work& work, const Place& place, const cw::CoilExtent& coil) {
  std::string text;
  for (const Part& part : work.parts) {
    std::string section = written(part, place.shift);
    if (place.inserted && part.profile.empty()) {
      const std::size_t at = section.find("centre = ");
      section.replace(at, section.find('\n', at) - at,
                      fmt::format("insertion = \"{:.3f} mm\"", (coil.high - coil.low) / 2 / mm));
    }
    text += section;
  }
  return text;
}

}  // namespace

RandomCase random_case(std::uint64_t seed) {
  Draw draw(seed);
  RandomCase c;
  c.seed = seed;
  const Work work = random_work(draw);
  const RandomCoil wound = random_coil(draw, work);
  const cw::Coil coil = as_read(wound);
  const cw::CoilExtent extent = cw::extent_of(coil);
  const Feed feed{{draw.over_decades(500, 1e6)}, draw.over_decades(1, 1000)};
  const bool voltage = draw.chance(0.3), empty = work.kind == "none";
  c.classes = {work.kind,
               wound.shape,
               wound.conductor,
               "not magnetic",
               "none",
               work.bodies,
               voltage ? "voltage" : "current"};
  if (!empty) {
    const Temperature t = Temperature::celsius(work.degrees);
    if (saturates(find_material(work.parts.front().material), t)) c.classes.magnetic = "magnetic";
    c.classes.skin = skin_class(work.thickness * mm, depth_of(work, coil, feed));
    c.text += written_work(work, random_place(draw, work, extent, wound.before_face), extent);
  }
  if (draw.chance(0.12)) {
    c.text += written(flux_plate(draw, work.outer, extent, wound.before_face), 0.0);
    add_kind(c.classes.bodies, "flux plate");
  }
  c.text += wound.text + drive(feed, coil, voltage);
  c.about = description(c, work, coil, feed);
  return c;
}

}  // namespace cw::accuracy
