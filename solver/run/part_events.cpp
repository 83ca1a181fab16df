#include "solver/run/part_events.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "materials/solder.hpp"
#include "materials/water.hpp"
#include "solver/limits/cooling_limits.hpp"
#include "solver/run/coil_tube.hpp"

namespace cw {

namespace {

using Moments = std::vector<HeatingMoment>;
using Reading = std::function<double(const HeatingMoment&)>;

/// The first time at which a reading exceeds `level`, linear between moments [s].
std::optional<double> first_above(const Moments& moments, const Reading& reading, double level) {
  for (std::size_t i = 1; i < moments.size(); ++i) {
    const double a = reading(moments[i - 1]), b = reading(moments[i]);
    if (a < level && b >= level)
      return std::lerp(moments[i - 1].time, moments[i].time, (level - a) / (b - a));
  }
  return std::nullopt;
}

/// A part of uniform temperature. `rate` is its heating rate [K/s] at a share of the interval
/// between two moments.
struct Follower {
  std::function<double(std::size_t after, double share, double kelvin)> rate;
  double start = 0.0, limit = 0.0;  ///< [K]
};

/// The time at which it exceeds its limit [s]. Heun's method in steps of at most half a second.
std::optional<double> limit_passed(const Moments& moments, const Follower& part) {
  constexpr double longest = 0.5;
  double kelvin = part.start;
  for (std::size_t i = 1; i < moments.size(); ++i) {
    const double length = moments[i].time - moments[i - 1].time;
    const int steps = std::max(4, static_cast<int>(std::ceil(length / longest)));
    for (int k = 0; k < steps; ++k) {
      const double from = static_cast<double>(k) / steps, to = static_cast<double>(k + 1) / steps;
      const double step = length / steps;
      const double first = part.rate(i, from, kelvin);
      const double last = part.rate(i, to, kelvin + step * first);
      const double next = kelvin + 0.5 * step * (first + last);
      if (next >= part.limit && kelvin < part.limit)
        return moments[i - 1].time + length * from + step * (part.limit - kelvin) / (next - kelvin);
      kelvin = next;
    }
  }
  return std::nullopt;
}

class PartEvents {
 public:
  PartEvents(const Heater& subject, const SolvedState& start, const Moments& moments)
      : subject_(subject), start_(start), moments_(moments), air_(surroundings_of(subject)) {}

  std::vector<HeatingEvent> find() {
    const DriveParts drive = drive_parts(subject_.drive);
    if (tank_rings(subject_.drive))
      add("capacitor can", subject_.tank->can_warming,
          [](const HeatingMoment& m) { return m.can_W; });
    if (drive.choke != nullptr)
      add("feed choke", drive.choke->warming,
          [&](const HeatingMoment& m) { return m.chokes_W / drive.choke->count; });
    if (drive.transistor != nullptr)
      add("switch", drive.transistor->warming,
          [&](const HeatingMoment& m) { return m.switches_W / drive.switches; });
    if (subject_.coil.leads)
      add("leads", subject_.coil.leads->warming, [](const HeatingMoment& m) { return m.leads_W; });
    if (subject_.coil.coolant)
      add_water();
    else
      add_dry_tube();
    std::stable_sort(found_.begin(), found_.end(),
                     [](const HeatingEvent& a, const HeatingEvent& b) { return a.time < b.time; });
    return found_;
  }

 private:
  void note(std::string name, std::optional<double> time) {
    if (time) found_.push_back({std::move(name), *time});
  }

  void add(const char* name, const std::optional<Warming>& warming, const Reading& loss) {
    if (!warming) return;
    const Follower part{
        [&](std::size_t i, double share, double kelvin) {
          const double watts = std::lerp(loss(moments_[i - 1]), loss(moments_[i]), share);
          return (watts - (kelvin - air_.kelvin) / warming->to_air) / warming->heat_capacity;
        },
        air_.kelvin, warming->limit.kelvin};
    note(fmt::format("{}: reaches its {:.3g} degC", name, warming->limit.in_celsius()),
         limit_passed(moments_, part));
  }

  [[nodiscard]] double from_work(const HeatingMoment& m) const {
    return heat_from_work(subject_, {{m.surface}, start_.temperature.coil, false});
  }

  void add_dry_tube() {
    const LumpedPart tube = dry_tube(subject_, start_, 1.0, 0.0);  // for a loss of one watt
    std::vector<double> work;
    for (const HeatingMoment& m : moments_) work.push_back(from_work(m));
    const Temperature limit = subject_.coil.temperature_limit.value_or(solder_softens);
    const Follower part{[&](std::size_t i, double share, double kelvin) {
                          const HeatingMoment &a = moments_[i - 1], &b = moments_[i];
                          const double watts =
                              std::lerp(a.coil_W + a.leads_W, b.coil_W + b.leads_W, share);
                          return (watts * tube.power({kelvin}) +
                                  std::lerp(work[i - 1], work[i], share) - tube.loss({kelvin})) /
                                 tube.capacity({kelvin});
                        },
                        air_.kelvin, limit.kelvin};
    note(fmt::format("coil tube: reaches its {:.3g} degC", limit.in_celsius()),
         limit_passed(moments_, part));
  }

  void add_water() {
    const WaterChannel bore = *coil_tube(subject_.coil).bore;
    const Coolant& water = *subject_.coil.coolant;
    const auto tube = [&](const HeatingMoment& m) {
      return cool_tube(bore, water.flow, water.inlet, m.coil_W + m.leads_W + from_work(m));
    };
    note(fmt::format("cooling water: leaves hotter than {:.3g} degC", hose_limit.in_celsius()),
         first_above(
             moments_, [&](const HeatingMoment& m) { return tube(m).outlet.kelvin; },
             hose_limit.kelvin));
    note("cooling water: boils at the tube's wall",
         first_above(
             moments_, [&](const HeatingMoment& m) { return tube(m).wall_hottest.kelvin; },
             water_boils.kelvin));
  }

  const Heater& subject_;
  const SolvedState& start_;
  const Moments& moments_;
  Temperature air_;
  std::vector<HeatingEvent> found_;
};

}  // namespace

std::vector<HeatingEvent> part_events(const Heater& subject, const SolvedState& start,
                                      const Moments& moments) {
  return PartEvents(subject, start, moments).find();
}

}  // namespace cw
