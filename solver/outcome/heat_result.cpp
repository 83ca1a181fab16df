#include "solver/outcome/heat_result.hpp"

#include <fmt/format.h>

#include "materials/figures.hpp"

namespace cw {

std::string target_place(const HeatResult& heat) {
  if (heat.target_depth) return fmt::format("at a depth of {} mm", millimetres(*heat.target_depth));
  if (heat.target_at == "joint") return "all over the joint of " + heat.target_of;
  const std::string of =
      heat.target_of == "workpiece" ? "" : fmt::format(" of the {}", heat.target_of);
  if (heat.target_at == "mean") return "in the mean" + of;
  return fmt::format("at the {}{}", heat.target_at == "coldest" ? "coldest place" : heat.target_at,
                     of);
}

}  // namespace cw
