#include "postproc/making/winding_plan.hpp"

#include <algorithm>
#include <cmath>

#include "postproc/making/tube_bending.hpp"
#include "solver/heater/rings.hpp"

namespace cw {

namespace {

std::optional<double> spacer_of(const Coil& coil) {
  if (coil.turns <= 1.0 || coil.pitch <= 0.0) return {};
  return turn_gap(coil);
}

/// Checks the sizes, because a file that was read may hold any.
const RoundTube* copper_tube(const Conductor& conductor) {
  const auto* tube = std::get_if<RoundTube>(&conductor.section);
  const bool sound = tube != nullptr && tube->thickness > 0.0 &&
                     2.0 * tube->thickness <= tube->diameter &&
                     conductor.material.name.find("copper") != std::string::npos;
  return sound ? tube : nullptr;
}

/// Share by which the tube opens; empty if it is not known.
std::optional<double> spring_back_at(const Coil& coil, double radius) {
  const RoundTube* tube = copper_tube(coil.conductor);
  if (tube == nullptr || !(radius > 0.0)) return {};
  return spring_back(tube->diameter, tube->thickness, radius);
}

}  // namespace

double wound_radius(const Coil& coil, double radius) {
  return radius / (1.0 + spring_back_at(coil, radius).value_or(0.0));
}

WindingPlan winding_plan(const Coil& coil) {
  WindingPlan plan;
  const double radial = coil.conductor.radial_size();
  const double end = coil.shape == CoilShape::cone ? coil.bore_end.value_or(coil.bore) : coil.bore;
  const double bore = std::min(coil.bore, end);
  plan.bend_radius = 0.5 * (bore + radial);
  plan.bend_ratio = plan.bend_radius / radial;
  plan.spring_back = spring_back_at(coil, plan.bend_radius);
  if (coil.shape == CoilShape::helix) {
    // The middle of the conductor opens by this share; the conductor keeps its size.
    plan.former_diameter = 2.0 * wound_radius(coil, plan.bend_radius) - radial;
  }
  plan.spacer = spacer_of(coil);
  plan.lead_angle = 360.0 * (coil.turns - std::floor(coil.turns + 1e-9));
  plan.lead_angle = plan.lead_angle < 1e-6 ? 0.0 : plan.lead_angle;
  plan.leads_length = coil.leads ? 2.0 * coil.leads->length : 0.0;
  plan.winding_length = conductor_length(coil);
  const double net = plan.winding_length + plan.leads_length;
  plan.allowance = allowance_share * net + 2.0 * allowance_per_end;
  plan.length_to_buy = std::ceil(10.0 * (net + plan.allowance) - 1e-9) / 10.0;
  return plan;
}

}  // namespace cw
