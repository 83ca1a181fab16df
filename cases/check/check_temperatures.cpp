#include <algorithm>
#include <limits>

#include <fmt/format.h>

#include "cases/check/findings.hpp"
#include "cases/parts.hpp"
#include "cases/wording.hpp"
#include "mesh/planar/outline.hpp"
#include "solver/heater/target.hpp"

namespace cw::cases {

namespace {

std::string degrees(Temperature t) {
  return in_words(t.kelvin, Dimension::temperature);
}

constexpr Temperature coldest = Temperature::celsius(-200.0),
                      hottest = Temperature::celsius(3500.0);

/// False, with an error, for a temperature that no workshop reaches.
bool check_plausible(Findings& findings, const std::string& key, Temperature t) {
  if (t >= coldest && t <= hottest) return true;
  findings.error(key, fmt::format("found {}; allowed: {} to {}", degrees(t), degrees(coldest),
                                  degrees(hottest)));
  return false;
}

/// Warns once, for the property with the narrowest range of data.
void check_covered(Findings& findings, const std::string& key, Temperature t,
                   const Material& material) {
  struct Property {
    const char* name;
    const Law& law;
  };
  for (const Property& property :
       {Property{"resistivity", material.resistivity},
        Property{"heat capacity", material.heat_capacity},
        Property{"thermal conductivity", material.thermal_conductivity}}) {
    if (property.law.covers(t)) continue;
    findings.warn(key, fmt::format("found {}, where the {} of {} is not known (data from {} to "
                                   "{}); the value at the nearer end is used",
                                   degrees(t), property.name, material.name,
                                   degrees(Temperature{property.law.lowest}),
                                   degrees(Temperature{property.law.highest})));
    return;
  }
}

/// Whether the metal's data extend to the target, and whether it melts there.
void check_melting(Findings& findings, const Material& material, Temperature target,
                   bool keeps_shape) {
  if (keeps_shape) check_covered(findings, "heat.target", target, material);
  if (!material.melting) return;
  constexpr double superheat =
      300.0;  // [K] above the liquidus, more than for any casting (common practice)
  const auto& melting = *material.melting;
  if (target.kelvin > melting.liquidus.kelvin + superheat) {
    findings.error("heat.target",
                   fmt::format("found {}, but {} is liquid from {}; allowed: up to {} of "
                               "superheat, {}; is the unit right (degF)?",
                               degrees(target), material.name, degrees(melting.liquidus),
                               in_words(superheat, Dimension::temperature_difference),
                               degrees({melting.liquidus.kelvin + superheat})));
  } else if (keeps_shape && target > melting.solidus) {
    findings.warn("heat.target",
                  fmt::format("found {}, but {} begins to melt at {}: the model keeps the shape of "
                              "the workpiece; a real one melts",
                              degrees(target), material.name, degrees(melting.solidus)));
  }
}

/// The body that is to reach the target; null if no heated body has this name.
const Body* heated_body(Findings& findings, const std::string& name) {
  std::string names = "workpiece";
  for (const Body& body : findings.subject.bodies) {
    if (body.name == name && !body.temperature) return &body;
    if (!body.temperature) names += ", " + body.name;
  }
  findings.error("heat.target_of",
                 fmt::format("found \"{}\", which is not heated; allowed: {}", name, names));
  return nullptr;
}

void check_target(Findings& findings, const Workpiece& piece, Temperature target) {
  if (!check_plausible(findings, "heat.target", target)) return;
  const std::string name = target_body(findings.subject);
  const bool work = name == "workpiece";
  const Body* body = work ? nullptr : heated_body(findings, name);
  if (!work && body == nullptr) return;
  const TargetAt at = findings.subject.heat->target_at;
  if (!work && at != TargetAt::coldest && at != TargetAt::mean)
    findings.error(
        "heat.target_at",
        fmt::format("found surface or centre of the {}; allowed: coldest or mean of the whole body",
                    name));
  if (target <= piece.temperature) {
    findings.error("heat.target",
                   fmt::format("found {}, not above the workpiece's {}; allowed: above it",
                               degrees(target), degrees(piece.temperature)));
    return;
  }
  check_melting(findings, work ? piece.material : body->material, target, work);
  if (!work) check_melting(findings, piece.material, target, true);
}

/// The outline of a heated body by name; null, with an error, if there is none.
const Outline* outline_in_joint(Findings& findings, const std::string& name) {
  if (name == "workpiece") return &findings.subject.workpiece->outline;
  std::string names = "workpiece";
  for (const Body& body : findings.subject.bodies) {
    if (body.name == name && !body.temperature) return &body.outline;
    if (!body.temperature) names += ", " + body.name;
  }
  findings.error("heat.target_joint",
                 fmt::format("found \"{}\", which is not heated; allowed: two of {}", name, names));
  return nullptr;
}

/// The two bodies must touch.
void check_joint(Findings& findings, const std::pair<std::string, std::string>& names) {
  const Outline *one = outline_in_joint(findings, names.first),
                *other = outline_in_joint(findings, names.second);
  if (one == nullptr || other == nullptr) return;
  constexpr double apart = 1e-6;  // [m]
  for (const Segment& a : sides(one->profile))
    for (const Segment& b : sides(other->profile))
      if (names.first != names.second && distance(a, b) < apart) return;
  findings.error("heat.target_joint",
                 fmt::format("found {} and {}, which do not touch; allowed: two that do",
                             names.first, names.second));
}

/// A depth must lie between the surface and the axis or bore, half-way up the stretch.
void check_depth(Findings& findings, double depth) {
  const Heater& subject = findings.subject;
  const Stretch stretch = heated_stretch(subject);
  const auto radii =
      radii_at(subject.workpiece->outline.profile, 0.5 * (stretch.from + stretch.to));
  if (!radii) return;
  const double metal = radii->second - radii->first;
  if (depth > 0.0 && depth < metal) return;
  findings.error(
      "heat.target_depth",
      fmt::format("found {}; allowed: above 0 mm and below the {} of metal there",
                  in_words(depth, Dimension::length), in_words(metal, Dimension::length)));
}

/// Depths must go from the outside inwards, with temperatures possible for the metal.
void check_temperature_profile(Findings& findings, const PartView& part) {
  const std::string key = part.key + ".temperature_profile";
  if (part.profile.size() == 1)
    findings.error(key, fmt::format("found one point; allowed: two or more; write temperature = "
                                    "\"{}\" for one temperature throughout",
                                    degrees(part.temperature)));
  for (std::size_t i = 0; i < part.profile.size(); ++i) {
    const auto& [depth, t] = part.profile[i];
    const std::string here = fmt::format("{}.{}", key, i);
    if (i == 0 && depth != 0)
      findings.error(here, fmt::format("found {} as the first depth; allowed: 0 mm, the outside",
                                       in_words(depth, Dimension::length)));
    if (i > 0 && depth <= part.profile[i - 1].depth)
      findings.error(
          here,
          fmt::format(
              "found a depth of {} after {}; allowed: depths that rise, from the outside inwards",
              in_words(depth, Dimension::length),
              in_words(part.profile[i - 1].depth, Dimension::length)));
    if (!check_plausible(findings, here, t)) continue;
    if (i > 0) check_covered(findings, here, t, part.material);
    const auto& melting = part.material.melting;
    if (i > 0 && part.key == "workpiece" && melting && t >= melting->solidus)
      findings.error(here, fmt::format("found {}, where {} is no longer solid; allowed: below {}",
                                       degrees(t), part.material.name, degrees(melting->solidus)));
  }
}

void check_part(Findings& findings, const PartView& part) {
  check_temperature_profile(findings, part);
  const std::string key =
      part.key + (part.profile.empty() ? ".temperature" : ".temperature_profile");
  if (!check_plausible(findings, key, part.temperature)) return;
  check_covered(findings, key, part.temperature, part.material);
  if (part.key != "workpiece") return;
  const auto& melting = part.material.melting;
  if (melting && part.temperature >= melting->solidus) {
    findings.error(
        key,
        fmt::format(
            "found a workpiece that starts at {}, where {} is no longer solid; allowed: below {}",
            degrees(part.temperature), part.material.name, degrees(melting->solidus)));
  }
  if (part.material.insulator()) {
    findings.warn("workpiece.material",
                  fmt::format("found {}, which does not conduct: nothing is induced in it",
                              part.material.name));
  }
}

/// The limit of a coil without water must be above its surroundings and below its melting point.
void check_dry_limit(Findings& findings, const Coil& coil) {
  if (!coil.temperature_limit) return;
  const char* key = "coil.temperature_limit";
  if (coil.coolant) {
    findings.warn(key, "found a limit beside coolant: it is used only for a coil without water");
    return;
  }
  if (!check_plausible(findings, key, *coil.temperature_limit)) return;
  const Temperature air = surroundings_of(findings.subject);
  if (*coil.temperature_limit <= air)
    findings.error(key, fmt::format("found {} in surroundings of {}; allowed: above them",
                                    degrees(*coil.temperature_limit), degrees(air)));
  const auto& melting = coil.conductor.material.melting;
  if (melting && *coil.temperature_limit >= melting->solidus)
    findings.error(key, fmt::format("found {}, where {} melts; allowed: below {}",
                                    degrees(*coil.temperature_limit), coil.conductor.material.name,
                                    degrees(melting->solidus)));
}

void check_coil(Findings& findings, const Coil& coil) {
  constexpr Temperature ice = Temperature::celsius(0.0), boiling = Temperature::celsius(100.0);
  if (coil.temperature && check_plausible(findings, "coil.temperature", *coil.temperature)) {
    const auto& melting = coil.conductor.material.melting;
    if (melting && *coil.temperature >= melting->solidus) {
      findings.error(
          "coil.temperature",
          fmt::format("found {}, where {} melts; allowed: below {}", degrees(*coil.temperature),
                      coil.conductor.material.name, degrees(melting->solidus)));
    }
  }
  check_dry_limit(findings, coil);
  if (coil.coolant && (coil.coolant->inlet < ice || coil.coolant->inlet >= boiling)) {
    findings.error("coil.coolant.inlet",
                   fmt::format("found water at {}; allowed: {} to below {}",
                               degrees(coil.coolant->inlet), degrees(ice), degrees(boiling)));
  }
}

/// The target must be below the ceiling.
void check_ceiling(Findings& findings, const Heat& heat) {
  if (!heat.ceiling || !check_plausible(findings, "heat.ceiling", *heat.ceiling)) return;
  const Temperature least = heat.target.value_or(heat.surroundings);
  if (*heat.ceiling <= least)
    findings.error("heat.ceiling", fmt::format("found {}, not above {}; allowed: above it",
                                               degrees(*heat.ceiling), degrees(least)));
}

}  // namespace

void check_temperatures(Findings& findings) {
  const Case& subject = findings.subject;
  for (const PartView& part : parts_of(subject)) check_part(findings, part);
  check_coil(findings, subject.coil);
  if (!subject.heat) return;
  check_plausible(findings, "heat.surroundings", subject.heat->surroundings);
  check_ceiling(findings, *subject.heat);
  if (subject.heat->target && subject.workpiece) {
    check_target(findings, *subject.workpiece, *subject.heat->target);
    if (subject.heat->target_joint) check_joint(findings, *subject.heat->target_joint);
    if (subject.heat->target_depth) check_depth(findings, *subject.heat->target_depth);
  }
}

}  // namespace cw::cases
