#include "solver/heater/conductor.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace cw {

namespace {

using std::numbers::pi;

double gap_of_rounds(double diameter, double dr, double dz) {
  return std::hypot(dr, dz) - diameter;
}

template <class... S>
AnySection section_among(std::variant<S...> /*kinds*/, std::string_view kind,
                         const SectionSizes& sizes) {
  AnySection found = RoundWire::of(sizes);
  (void)((S::kind == kind && (found = S::of(sizes), true)) || ...);
  return found;
}

}  // namespace

AnySection section_of(std::string_view kind, const SectionSizes& sizes) {
  return section_among(AnySection{}, kind, sizes);
}

double RoundTube::metal_area() const {
  const double inside = diameter - 2 * thickness;
  return pi / 4 * (diameter * diameter - inside * inside);
}

double RoundTube::perimeter() const {
  return pi * diameter;
}

std::optional<CoolingChannel> RoundTube::channel() const {
  const double inside = diameter - 2 * thickness;
  return CoolingChannel{pi / 4 * inside * inside, pi * inside};
}

Shape RoundTube::shape(Point centre) const {
  return Disc{centre, diameter / 2, diameter / 2 - thickness};
}

double RoundTube::gap(double dr, double dz) const {
  return gap_of_rounds(diameter, dr, dz);
}

double RoundWire::metal_area() const {
  return pi / 4 * diameter * diameter;
}

double RoundWire::perimeter() const {
  return pi * diameter;
}

double RoundWire::gap(double dr, double dz) const {
  return gap_of_rounds(diameter, dr, dz);
}

double RectangularBar::metal_area() const {
  const double whole = radial_size * axial_size;
  const auto hollow = channel();
  return hollow ? whole - hollow->area : whole;
}

std::optional<CoolingChannel> RectangularBar::channel() const {
  if (!thickness) return std::nullopt;
  const double a = radial_size - 2 * *thickness, b = axial_size - 2 * *thickness;
  return CoolingChannel{a * b, 2 * (a + b)};
}

Shape RectangularBar::shape(Point centre) const {
  const auto corner = [&](double inset, int r, int z) {
    return centre + Point{r * (radial_size / 2 - inset), z * (axial_size / 2 - inset)};
  };
  Polygon polygon = rectangle(corner(0, -1, -1), corner(0, 1, 1));
  if (thickness)
    polygon.holes.push_back({corner(*thickness, -1, -1), corner(*thickness, -1, 1),
                             corner(*thickness, 1, 1), corner(*thickness, 1, -1)});
  return polygon;
}

double RectangularBar::gap(double dr, double dz) const {
  return std::max(std::abs(dr) - radial_size, std::abs(dz) - axial_size);
}

RectangularBar RectangularBar::scaled(double by) const {
  RectangularBar bar{by * radial_size, by * axial_size, thickness};
  if (bar.thickness) *bar.thickness *= by;
  return bar;
}

RoundEquivalent RectangularBar::equivalent() const {
  const double inset = thickness.value_or(0.0);
  const bool solid = inset == 0.0 || 2.0 * inset >= std::min(radial_size, axial_size);
  const double bore = solid ? 0.0 : (radial_size - 2.0 * inset) * (axial_size - 2.0 * inset);
  const double area = radial_size * axial_size - bore;
  const double radius = (radial_size + axial_size) / pi;
  const double round_bore = radius * std::sqrt(1.0 - area / (pi * radius * radius));
  return {radius, radius - round_bore};
}

double StrandBundle::metal_area() const {
  return pi / 4 * strand * strand * strands * lay;
}

double StrandBundle::perimeter() const {
  return pi * bundle;
}

double StrandBundle::gap(double dr, double dz) const {
  return gap_of_rounds(bundle, dr, dz);
}

RoundEquivalent StrandBundle::equivalent() const {
  return {bundle / 2, 0, strands * std::pow(strand / bundle, 2) / lay};
}

Conductor Conductor::scaled(double by) const {
  return ask([&](const auto& s) { return Conductor{s.scaled(by), material}; });
}

}  // namespace cw
