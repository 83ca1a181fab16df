#pragma once

#include "solver/heater/heater.hpp"
#include "solver/thermal/thermal_model.hpp"

namespace cw {

/// The bodies of a case that are heated; regions are those of `field_model`.
struct HeatedBodies {
  std::vector<ThermalBody> body;
  std::vector<double> emissivity;  ///< by body
  std::vector<Contact> contacts;
};

/// Workpiece and bodies without a fixed temperature, with their contacts.
HeatedBodies heated_bodies(const Heater& subject, const Mesh& mesh);

/// How the bodies lose heat:
/// - outward walls: to a wall that faces them all round (view factors, air between), else to the
///   coil and, through its gaps and ends, to the surroundings (CoilEnclosure); with natural
///   convection where nothing faces them;
/// - end faces: natural convection and radiation to the surroundings, route "ends";
/// - bores and cups: one grey cavity behind its open ends (factor: area of the openings over that
///   of the walls, any text on heat transfer), its air at rest;
/// - surfaces that touch a body of fixed temperature have that temperature.
ThermalBoundary heat_boundary(const Heater& subject, const Mesh& mesh, const ThermalMesh& bodies,
                              const std::vector<double>& emissivity);

}  // namespace cw
