#include "solver/run/overheating.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "materials/figures.hpp"

namespace cw {

namespace {

constexpr Temperature hardening_up_to = Temperature::celsius(980.0);
constexpr Temperature coarse_grain = Temperature::celsius(1050.0);
constexpr double burns_below_solidus = 100.0;  // [K]

struct Harm {
  double above;  ///< [K]
  const char* what;
};

/// The temperature that harms the metal itself.
std::optional<Harm> harm_to(const Material& metal, const HeatResult& heat, bool target) {
  if (!metal.melting) return std::nullopt;
  const double solidus = metal.melting->solidus.kelvin;
  if (target && heat.target && heat.target->kelvin >= solidus) return std::nullopt;
  const bool steel = metal.magnetisation && metal.name.find("steel") != std::string::npos;
  if (!steel) return Harm{solidus, "it begins to melt"};
  if (heat.target && *heat.target <= hardening_up_to)
    return Harm{coarse_grain.kelvin, "the grain of steel coarsens, and scale forms fast"};
  return Harm{solidus - burns_below_solidus, "steel burns along its grain boundaries"};
}

/// The same, or the ceiling of the job if that is lower.
std::optional<Harm> harm_in(const Heater& heater, const HeatResult& heat, const Material& metal,
                            bool target) {
  std::optional<Harm> harm = harm_to(metal, heat, target);
  const auto& ceiling = heater.heat->ceiling;
  if (ceiling && (!harm || ceiling->kelvin < harm->above))
    harm = Harm{ceiling->kelvin, "is above the highest temperature allowed for this job"};
  return harm;
}

/// Whether the target applies to this body alone; a body joined to it need not withstand it.
bool is_target(const HeatResult& heat, std::string_view body) {
  return !heat.target_to && heat.target_of == body;
}

const Material* material_of(const Heater& heater, const std::string& name) {
  if (name == "workpiece") return &heater.workpiece->material;
  for (const Body& body : heater.bodies)
    if (body.name == name) return &body.material;
  return nullptr;
}

}  // namespace

std::optional<Temperature> hottest_allowed(const Heater& heater, const HeatResult& heat) {
  const auto harm = harm_in(heater, heat, heater.workpiece->material, is_target(heat, "workpiece"));
  return harm ? std::optional(Temperature{harm->above}) : std::nullopt;
}

std::optional<double> too_hot_after(HeatingSetup& setup, HeatingState state, Temperature allowed) {
  const HeatingPlan own = setup.plan();
  HeatingPlan& on = setup.plan();
  on.target = allowed;
  on.target_at = ProbeKind::hottest;
  on.events.clear();
  on.readings = {};
  on.milestone = 0.0;
  on.until = 2 * state.thermal.time;
  state.snapshots.clear();
  state.thermal.reached.clear();  // events of the run so far
  const HeatingOutcome end = setup.run(std::move(state));
  setup.plan() = own;
  if (end.end != HeatingEnd::target) return std::nullopt;
  return end.state.thermal.time;
}

std::vector<LimitResult> overheating(const Heater& heater, const HeatResult& heat) {
  constexpr double near = 0.95;
  const double room = heater.heat->surroundings.kelvin;
  std::vector<LimitResult> all;
  for (std::size_t b = 0; b < heat.bodies.size(); ++b) {
    const std::string& name = heat.bodies[b].name;
    const Material* metal = material_of(heater, name);
    const auto harm =
        metal != nullptr ? harm_in(heater, heat, *metal, is_target(heat, name)) : std::nullopt;
    if (!harm) continue;
    LimitResult r;
    r.part = name;
    r.quantity = "hottest_K";
    for (const HeatLine& line : heat.lines)
      if (b < line.bodies.size()) r.value = std::max(r.value, line.bodies[b].hottest);
    r.limit = harm->above;
    r.fraction = (r.value - room) / (harm->above - room);
    r.verdict = *r.fraction >= 1.0    ? Verdict::stop
                : *r.fraction >= near ? Verdict::watch
                                      : Verdict::ok;
    r.at_state = "heating";
    if (r.verdict != Verdict::ok)
      r.advice = fmt::format(
          "Above {} degC {}: heat more slowly, with less power, so that the core keeps up.",
          figure(harm->above - zero_celsius), harm->what);
    all.push_back(std::move(r));
  }
  return all;
}

}  // namespace cw
