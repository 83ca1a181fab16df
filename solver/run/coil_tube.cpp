#include "solver/run/coil_tube.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <unordered_map>
#include <utility>

#include "solver/heater/rings.hpp"
#include "solver/thermal/coaxial_nest.hpp"
#include "solver/thermal/convection.hpp"
#include "solver/thermal/exchange.hpp"

namespace cw {

namespace {

/// A body within the coil.
struct Within {
  const Material* material;
  OutlineExtent extent;
  Temperature at;
};

std::vector<Within> bodies_within(const Heater& subject, const CoilExtent& coil, Temperature work) {
  std::vector<Within> found;
  const auto add = [&](const Material& material, const Outline& outline, Temperature at) {
    const OutlineExtent e = extent_of(outline);
    if (e.outer <= coil.inner && e.low < coil.high && e.high > coil.low)
      found.push_back({&material, e, at});
  };
  if (subject.workpiece) add(subject.workpiece->material, subject.workpiece->outline, work);
  for (const Body& body : subject.bodies)
    add(body.material, body.outline, body.temperature.value_or(work));
  std::sort(found.begin(), found.end(),
            [](const Within& a, const Within& b) { return a.extent.outer < b.extent.outer; });
  return found;
}

double emissivity_of(const Heater& subject, const Within& body) {
  const bool work = subject.workpiece && body.material == &subject.workpiece->material;
  if (work && subject.heat && subject.heat->emissivity) return *subject.heat->emissivity;
  return body.material->emissivity.value;
}

/// Caches a costly function of temperature at every 5 K. Linear interpolation between them is
/// within 1e-5 of a tube's resistance.
class KeptByTemperature {
 public:
  explicit KeptByTemperature(std::function<double(Temperature)> exact) : exact_(std::move(exact)) {}

  double operator()(Temperature t) const {
    const double place = t.kelvin / step, below = std::floor(place);
    return std::lerp(at(static_cast<int>(below)), at(static_cast<int>(below) + 1), place - below);
  }

 private:
  static constexpr double step = 5.0;  // [K]

  [[nodiscard]] double at(int node) const {
    const auto [it, fresh] = kept_.try_emplace(node);
    if (fresh) it->second = exact_({node * step});
    return it->second;
  }

  std::function<double(Temperature)> exact_;
  mutable std::unordered_map<int, double> kept_;
};

double resistance_at(const Winding& winding, Frequency f, double conductivity) {
  RoundConductor c = winding.conductor;
  c.conductivity = conductivity;
  return winding.strands ? 1 / conductivity : internal_impedance(c, f).resistance_ohm;
}

}  // namespace

CoilTube coil_tube(const Coil& coil) {
  CoilTube tube;
  double coiled = 0, radius = 0, turns = 0;
  for (const RingPlace& p : ring_places(coil)) {
    const double step = coil.shape == CoilShape::rings ? 0.0 : coil.pitch;
    coiled += p.weight * std::hypot(2 * std::numbers::pi * p.r, step);
    radius += p.weight * p.r;
    turns += p.weight;
  }
  double straight = 0;
  if (coil.leads) straight = 2 * coil.leads->length;
  if (coil.leads && (coil.shape == CoilShape::helix || coil.shape == CoilShape::cone))
    straight += coil.turns * coil.pitch;
  tube.length = coiled + straight;
  tube.metal_area = coil.conductor.metal_area();
  tube.perimeter = coil.conductor.perimeter();
  tube.size = 0.5 * (coil.conductor.radial_size() + coil.conductor.axial_size());
  if (const auto channel = coil.conductor.channel(); channel && channel->area > 0) {
    WaterChannel bore;
    bore.area = channel->area;
    bore.wetted_perimeter = channel->wetted_perimeter;
    bore.coiled_length = coiled;
    bore.straight_length = straight;
    bore.coil_diameter = 2 * radius / turns;
    tube.bore = bore;
  }
  return tube;
}

double heat_from_work(const Heater& subject, const StateTemperatures& t) {
  if (subject.coil.shape == CoilShape::flat) return 0.0;
  const CoilExtent coil = extent_of(subject.coil);
  const auto bodies = bodies_within(subject, coil, t.work);
  const auto hot = std::find_if(bodies.rbegin(), bodies.rend(),
                                [](const Within& b) { return !b.material->insulator(); });
  if (hot == bodies.rend()) return 0.0;
  CoaxialNest nest;
  nest.hot_radius = hot->extent.outer;
  nest.hot_emissivity = emissivity_of(subject, *hot);
  nest.hot = hot->at;
  nest.coil_radius = coil.inner;
  nest.coil_emissivity = subject.coil.conductor.material.emissivity.value;
  nest.coil = t.coil;
  nest.length = std::min(hot->extent.high, coil.high) - std::max(hot->extent.low, coil.low);
  double from = nest.hot_radius;
  const Temperature middle{0.5 * (hot->at.kelvin + t.coil.kelvin)};
  for (auto wall = hot.base(); wall != bodies.end(); ++wall) {
    if (wall->extent.inner < from - 1e-9) continue;  // beside another wall, not outside it
    nest.walls.push_back({std::max(from, wall->extent.inner), wall->extent.outer,
                          wall->material->thermal_conductivity(middle),
                          wall->material->emissivity.value});
    from = wall->extent.outer;
  }
  return heat_to_coil(nest);
}

double resistance_ratio(const Heater& subject, const Winding& winding, Frequency f,
                        Temperature from, Temperature to) {
  const Material& metal = subject.coil.conductor.material;
  return resistance_at(winding, f, metal.conductivity(to)) /
         resistance_at(winding, f, metal.conductivity(from));
}

std::function<double(Temperature)> resistance_law(const Heater& subject, const SolvedState& state) {
  return KeptByTemperature([&subject, winding = state.model.winding, f = state.frequency,
                            at = state.temperature.coil](Temperature t) {
    return resistance_ratio(subject, winding, f, at, t);
  });
}

bool cooled_by_water(const Coil& coil) {
  return coil.coolant && !coil.temperature;
}

CooledTube cooled_tube(const Heater& subject, double loss, const StateTemperatures& t) {
  const Coolant& water = *subject.coil.coolant;
  return cool_tube(*coil_tube(subject.coil).bore, water.flow, water.inlet,
                   loss + heat_from_work(subject, t));
}

LumpedPart dry_tube(const Heater& subject, const SolvedState& state, double loss,
                    double from_work) {
  const CoilTube tube = coil_tube(subject.coil);
  const Material& metal = subject.coil.conductor.material;
  const Temperature air = surroundings_of(subject);
  const double mass = metal.density.value * tube.metal_area * tube.length;
  const double free = 0.5 * tube.perimeter * tube.length;
  const double emissivity = metal.emissivity.value;
  LumpedPart part;
  part.capacity = [&metal, mass](Temperature t) { return mass * metal.heat_capacity(t); };
  const KeptByTemperature ratio([&subject, winding = state.model.winding, f = state.frequency,
                                 at = state.temperature.coil](Temperature t) {
    return resistance_ratio(subject, winding, f, at, t);
  });
  part.power = [ratio, loss, from_work](Temperature t) { return loss * ratio(t) + from_work; };
  part.loss = [=](Temperature t) {
    if (t.kelvin <= air.kelvin) return 0.0;
    const NaturalConvection still{Posture::horizontal_cylinder, tube.size, 0.0, air};
    return free *
           (film_coefficient(still, t) * (t.kelvin - air.kelvin) +
            emissivity * stefan_boltzmann * (std::pow(t.kelvin, 4) - std::pow(air.kelvin, 4)));
  };
  return part;
}

}  // namespace cw
