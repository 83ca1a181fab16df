#include "solver/heater/target.hpp"

#include <algorithm>

#include "solver/heater/rings.hpp"

namespace cw {

namespace {

/// Ac3 of plain carbon steels lies between 730 degC (eutectoid) and some 850 degC (low carbon);
/// common practice, no source.
constexpr Temperature usual_austenite = Temperature::celsius(780.0);

}  // namespace

Stretch heated_stretch(const Heater& subject) {
  double low = 1e300, high = -1e300, bottom = 1e300, top = -1e300;
  for (const Point& c : subject.workpiece->outline.profile) {
    bottom = std::min(bottom, c.z);
    top = std::max(top, c.z);
  }
  if (subject.heat->heated) {
    low = subject.heat->heated->from;
    high = subject.heat->heated->to;
  } else {
    const CoilExtent coil = extent_of(subject.coil);
    low = coil.low;
    high = coil.high;
  }
  low = std::max(low, bottom);
  high = std::min(high, top);
  // The workpiece lies outside the coil: all of it counts.
  return low < high ? Stretch{low, high} : Stretch{bottom, top};
}

std::optional<Temperature> austenite_of(const Heater& subject) {
  if (subject.heat->harden) return subject.heat->harden;
  const Material& metal = subject.workpiece->material;
  if (!metal.magnetisation || metal.name.find("steel") == std::string::npos) return std::nullopt;
  return std::max(metal.magnetisation->curie, usual_austenite);
}

}  // namespace cw
