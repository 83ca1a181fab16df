#include "solver/outcome/result.hpp"

namespace cw {

double PowerBalance::sum() const {
  double total_of_parts = workpiece.value_or(0.0) + coil + leads;
  for (const auto& [name, watts] : bodies) total_of_parts += watts;
  for (const auto& part : {joints, capacitors, switches, chokes, cable, battery})
    total_of_parts += part.value_or(0.0);
  return total_of_parts;
}

}  // namespace cw
