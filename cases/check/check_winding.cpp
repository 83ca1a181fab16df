#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

#include "cases/check/findings.hpp"
#include "cases/wording.hpp"
#include "solver/circuit/leads.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

namespace {

void check_wall(Findings& findings, const Conductor& conductor) {
  const double smaller = std::min(conductor.radial_size(), conductor.axial_size());
  const double wall = conductor.wall().value_or(0.0);
  if (wall == 0.0 || 2.0 * wall < smaller) return;
  findings.error("coil.conductor.wall",
                 fmt::format("found a wall of {} in a conductor of {}; allowed: below {}; write a "
                             "thinner wall, or a solid wire or bar without wall",
                             mm(wall), mm(smaller), mm(smaller / 2.0)));
}

void check_strands(Findings& findings, const Conductor& conductor) {
  const StrandBundle* bundle = conductor.strands();
  if (bundle == nullptr) return;
  // Densest packing of equal circles, pi/(2 sqrt 3) (closed form, Lagrange 1773 for lattices; from
  // memory).
  const double densest = std::numbers::pi / (2.0 * std::numbers::sqrt3);
  const double least = bundle->strand * std::sqrt(bundle->strands / densest);
  if (bundle->bundle >= least) return;
  findings.error(
      "coil.conductor.bundle",
      fmt::format(
          "found a bundle of {} for {} strands of {}; allowed: at least {}, or they do not fit",
          mm(bundle->bundle), bundle->strands, mm(bundle->strand), mm(least)));
}

void check_rings(Findings& findings, const Coil& coil) {
  const auto places = ring_places(coil);
  for (std::size_t i = 0; i < places.size(); ++i) {
    const std::string key = fmt::format("coil.ring.{}", i);
    if (places[i].r - coil.conductor.radial_size() / 2.0 < smallest_gap) {
      findings.error(
          key,
          fmt::format(
              "found a turn at r = {} of a conductor {} wide, across the axis; write a larger r",
              mm(places[i].r), mm(coil.conductor.radial_size())));
    }
    for (std::size_t j = 0; j < i; ++j) {
      if (coil.conductor.gap(places[i].r - places[j].r, places[i].z - places[j].z) >= smallest_gap)
        continue;
      findings.error(key, fmt::format("found a turn that overlaps or touches turn {} of the list; "
                                      "allowed: at least {} between them; move one",
                                      j + 1, mm(smallest_gap)));
    }
  }
}

/// In a wound coil all turns have the distance of the first two.
void check_row(Findings& findings, const Coil& coil) {
  const auto places = ring_places(coil);
  if (places.size() < 2) return;
  // Rings of part turns become smaller as they come closer: the distance from turn to turn counts.
  const double apart = static_cast<double>(places.size()) / coil.turns;
  RingPlace next = places[0];
  next.r += apart * (places[1].r - places[0].r);
  next.z += apart * (places[1].z - places[0].z);
  if (coil.conductor.gap(places[0].r - next.r, places[0].z - next.z) >= smallest_gap) return;
  const double size =
      coil.shape == CoilShape::flat ? coil.conductor.radial_size() : coil.conductor.axial_size();
  const double least = size + smallest_gap;
  const std::string found = fmt::format(
      "found turns {} apart from centre to centre with a conductor of {}: they overlap or touch",
      mm(coil.pitch), mm(size));
  const bool gap = coil.gap.has_value();
  findings.error(gap ? "coil.gap" : "coil.pitch",
                 fmt::format("{}; allowed: a {} of at least {}", found, gap ? "gap" : "pitch",
                             mm(gap ? least - size : least)));
}

void check_leads(Findings& findings, const Coil& coil) {
  if (!coil.leads) return;
  // A bar is computed as its round equivalent, which may be wider than its radial side.
  const double across =
      std::max(coil.conductor.radial_size(), 2 * coil.conductor.equivalent().outer_radius);
  const double least = across + smallest_gap;
  if (coil.leads->spacing >= least) return;
  findings.error("coil.leads.spacing",
                 fmt::format("found {} from centre to centre with a conductor of {}: the leads "
                             "touch; allowed: at least {}",
                             mm(coil.leads->spacing), mm(across), mm(least)));
}

void check_coolant(Findings& findings, const Coil& coil) {
  if (!coil.coolant) return;
  if (coil.conductor.channel()) return;
  findings.error("coil.coolant",
                 "found water in a conductor without a bore; allowed with a tube, or a bar with a "
                 "wall; remove coolant, or write for example { tube = \"6 mm\", wall = \"1 mm\" }");
}

}  // namespace

void check_winding(Findings& findings) {
  const Coil& coil = findings.subject.coil;
  check_wall(findings, coil.conductor);
  check_strands(findings, coil.conductor);
  if (coil.shape == CoilShape::rings) {
    check_rings(findings, coil);
  } else {
    check_row(findings, coil);
  }
  check_leads(findings, coil);
  check_coolant(findings, coil);
  if (coil.conductor.material.insulator()) {
    findings.error(
        "coil.conductor.material",
        fmt::format("found \"{}\", which does not conduct; write for example \"copper-tube\"",
                    coil.conductor.material.name));
  }
}

}  // namespace cw::cases
