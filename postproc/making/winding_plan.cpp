#include "postproc/making/winding_plan.hpp"

#include <algorithm>
#include <cmath>

#include "postproc/making/tube_bending.hpp"

namespace cw {

namespace {

std::optional<double> spacer_of(const CoilDesign& coil) {
  if (coil.turns <= 1.0 || coil.pitch <= 0.0) return {};
  const double along = coil.shape == "flat" ? coil.conductor.radial : coil.conductor.axial;
  return std::max(0.0, coil.pitch - along);
}

/// A file read back may say anything of its tube.
bool is_copper_tube(const ConductorDesign& conductor) {
  return conductor.kind == "tube" && conductor.material.find("copper") != std::string::npos &&
         conductor.wall && *conductor.wall > 0.0 && 2.0 * *conductor.wall <= conductor.radial;
}

}  // namespace

WindingPlan winding_plan(const CoilDesign& coil) {
  WindingPlan plan;
  const ConductorDesign& conductor = coil.conductor;
  const double bore = std::min(coil.bore, coil.bore_end.value_or(coil.bore));
  plan.bend_radius = 0.5 * (bore + conductor.radial);
  plan.bend_ratio = plan.bend_radius / conductor.radial;
  if (is_copper_tube(conductor) && plan.bend_radius > 0.0)
    plan.spring_back = spring_back(conductor.radial, *conductor.wall, plan.bend_radius);
  if (coil.shape == "helix") {
    // The middle of the conductor opens by that share; the conductor keeps its size.
    const double middle = 2.0 * plan.bend_radius / (1.0 + plan.spring_back.value_or(0.0));
    plan.former_diameter = middle - conductor.radial;
  }
  plan.spacer = spacer_of(coil);
  plan.lead_angle = 360.0 * (coil.turns - std::floor(coil.turns + 1e-9));
  plan.lead_angle = plan.lead_angle < 1e-6 ? 0.0 : plan.lead_angle;
  plan.leads_length = 2.0 * coil.lead_length.value_or(0.0);
  const double net = coil.conductor_length + plan.leads_length;
  plan.allowance = allowance_share * net + 2.0 * allowance_per_end;
  plan.length_to_buy = std::ceil(10.0 * (net + plan.allowance) - 1e-9) / 10.0;
  return plan;
}

}  // namespace cw
