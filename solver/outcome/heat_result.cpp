#include "solver/outcome/heat_result.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "materials/figures.hpp"

namespace cw {

namespace {

const char* word(TargetAt at) {
  switch (at) {
    case TargetAt::surface:
      return "surface";
    case TargetAt::centre:
      return "centre";
    case TargetAt::mean:
      return "mean";
    case TargetAt::coldest:
      break;
  }
  return "coldest";
}

}  // namespace

void take_target(const Heater& heater, HeatResult& heat) {
  const Heat& asked = *heater.heat;
  heat.target = asked.target;
  heat.target_at = asked.target_joint   ? "joint"
                   : asked.target_depth ? "depth"
                                        : word(asked.target_at);
  heat.target_of = target_body(heater);
  if (asked.target_joint) heat.target_to = asked.target_joint->second;
  heat.target_depth = asked.target_depth;
}

double greatest_demand(const HeatResult& heat) {
  double most = 0.0;
  for (const HeatLine& line : heat.lines) most = std::max(most, line.demand.value_or(0.0));
  return most;
}

std::string target_place(const HeatResult& heat) {
  if (heat.target_depth) return fmt::format("at a depth of {} mm", millimetres(*heat.target_depth));
  if (heat.target_to)
    return fmt::format("all over the joint of {} and {}", heat.target_of, *heat.target_to);
  const std::string of =
      heat.target_of == "workpiece" ? "" : fmt::format(" of the {}", heat.target_of);
  if (heat.target_at == "mean") return "on average over the " + heat.target_of;
  return fmt::format("at the {}{}", heat.target_at == "coldest" ? "coldest place" : heat.target_at,
                     of);
}

}  // namespace cw
