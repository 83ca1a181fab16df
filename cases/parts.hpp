#pragma once

#include <string>
#include <vector>

#include "cases/case.hpp"
#include "solver/heater/rings.hpp"

namespace cw::cases {

/// Workpiece and bodies in one form, for checks that treat them alike.
struct PartView {
  std::string key;   ///< "workpiece", "body.0" ...
  std::string name;  ///< "the workpiece", "body sleeve" ...
  const Outline& outline;
  const Material& material;
  Temperature temperature;  ///< at the outside if there is a profile
  const TemperatureProfile& profile;
};

std::vector<PartView> parts_of(const Case& subject);

/// The key that gives its size: the profile or the diameter.
std::string size_key(const PartView& part);

/// Clear distance from an outline to a turn [m]; 0 or less if they touch or overlap.
double clearance(const Outline& outline, const Conductor& conductor, const RingPlace& turn);

}  // namespace cw::cases
