#include "cases/compare/fault.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "materials/library.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

/// Additional lengths of lead to try [m], one way.
constexpr std::array<double, 4> longer = {0.1, 0.25, 0.5, 1.0};

bool is_steel(const std::string& name) {
  return name.starts_with("steel") || name.starts_with("stainless") || name.starts_with("iron") ||
         name.starts_with("cast-iron");
}

/// The case with this fault, except for a shorted turn.
Case with_fault(const Case& subject, const Fault& fault) {
  Case changed = subject;
  switch (fault.kind) {
    case Fault::Kind::missing_can: {
      const int series = subject.tank->cans_in_series;
      changed.tank->cans = *subject.tank->cans - fault.cans * series;
      changed.tank->capacitance *= 1.0 - static_cast<double>(fault.cans) / subject.tank->strings();
      break;
    }
    case Fault::Kind::longer_leads:
      if (!changed.coil.leads)
        changed.coil.leads.emplace().spacing = 3 * subject.coil.conductor.radial_size();
      changed.coil.leads->length += fault.lead;
      break;
    case Fault::Kind::fewer_turns:
      changed.coil.turns -= fault.turns;
      break;
    case Fault::Kind::wrong_steel:
      changed.workpiece->material = find_material(fault.material);
      break;
    case Fault::Kind::sound:
    case Fault::Kind::shorted_turn:
      break;
  }
  return changed;
}

}  // namespace

std::vector<Fault> possible_faults(const Case& subject) {
  std::vector<Fault> all{{}};
  const int strings = subject.tank->strings();
  for (int k = 1; k <= std::min(3, strings - 1); ++k)
    all.push_back({.kind = Fault::Kind::missing_can, .cans = k});
  const bool strands = subject.coil.conductor.strands() != nullptr;
  const std::size_t rings = ring_places(subject.coil).size();
  const std::size_t step = std::max<std::size_t>(1, rings / 8);
  for (std::size_t k = 0; !strands && rings > 1 && k < rings; k += step)
    all.push_back({.kind = Fault::Kind::shorted_turn, .turn = k});
  for (const double by : longer) all.push_back({.kind = Fault::Kind::longer_leads, .lead = by});
  if (subject.coil.shape != CoilShape::rings)
    for (const double by : {0.5, 1.0, 1.5, 2.0})
      if (subject.coil.turns - by >= 0.5)
        all.push_back({.kind = Fault::Kind::fewer_turns, .turns = by});
  if (!subject.workpiece || !is_steel(subject.workpiece->material.name)) return all;
  for (const std::string& name : material_names())
    if (is_steel(name) && name != subject.workpiece->material.name)
      all.push_back({.kind = Fault::Kind::wrong_steel, .material = name});
  return all;
}

std::string in_words(const Fault& fault, const Case& subject) {
  switch (fault.kind) {
    case Fault::Kind::missing_can:
      return subject.tank->cans_in_series == 1
                 ? fmt::format("{} of {} cans missing or open", fault.cans, *subject.tank->cans)
                 : fmt::format("{} of {} strings of cans missing or open", fault.cans,
                               subject.tank->strings());
    case Fault::Kind::shorted_turn:
      return fmt::format("a turn shorted, near turn {} of {}", fault.turn + 1,
                         ring_places(subject.coil).size());
    case Fault::Kind::longer_leads:
      return fmt::format("leads longer by {:.0f} mm one way", 1e3 * fault.lead);
    case Fault::Kind::fewer_turns:
      return fmt::format("{:g} turns instead of {:g}", subject.coil.turns - fault.turns,
                         subject.coil.turns);
    case Fault::Kind::wrong_steel:
      return fmt::format("wrong steel, such as {}", fault.material);
    case Fault::Kind::sound:
      break;
  }
  return "sound";
}

ReadingValues readings_with(const Case& subject, const Fault& fault, Effort effort) {
  const Case changed = with_fault(subject, fault);
  std::optional<std::size_t> shorted;
  if (fault.kind == Fault::Kind::shorted_turn) shorted = fault.turn;
  const PowerUp empty = power_up(emptied(changed), shorted, {}, effort);
  std::optional<PowerUp> loaded;
  if (changed.workpiece && empty.point.coil)
    loaded = power_up(changed, shorted, empty.point.tank.coil, effort);
  return readings_of(changed, empty, loaded);
}

}  // namespace cw::cases
