#pragma once

#include <memory>
#include <string>
#include <vector>

#include "mesh/section.hpp"
#include "mesh/sizing.hpp"
#include "solver/coupled/loaded_coil.hpp"
#include "solver/field/medium.hpp"
#include "solver/heater/heater.hpp"
#include "solver/outcome/region_info.hpp"

namespace cw {

/// Computing effort: sizes of the mesh relative to the usual.
enum class Effort { fast, normal, fine };
Sizing sizing_for(Effort effort);
/// Largest estimated error of inductance, coil loss and the power of each body.
double allowed_error(Effort effort);

/// Temperatures at one operating point; a body without its own profile is uniform.
struct StateTemperatures {
  Temperature work;  ///< of the workpiece and of bodies without a fixed temperature
  Temperature coil;
  bool as_given = false;  ///< the workpiece has its temperature profile, if the case gives one
};

/// The regions of one operating point for mesh and field, with their media and names. Region ids: 0
/// air, then workpiece (if any), bodies in file order, turns in winding order.
struct FieldModel {
  Section section;
  Media media;
  std::vector<RegionInfo> info;
  Winding winding;
  std::vector<SaturatingRegion> saturating;  ///< magnetic bodies below their Curie point
  std::vector<std::shared_ptr<const EffectiveReluctivity>> laws;  ///< what `saturating` refers to
};

/// The excitation for which the mesh is made.
struct Excitation {
  Frequency frequency;
  double current = 0.0;  ///< approximate, through the coil [A] rms; skin layers of saturating
                         ///< bodies depend on it
};

/// Builds the model of a checked case for this excitation.
FieldModel field_model(const Heater& subject, const StateTemperatures& t, const Excitation& about);

/// Temperature of the coil before anything heats it: as given, else that of the coolant's inlet,
/// else 20 degC.
Temperature coil_temperature(const Coil& coil);

}  // namespace cw
