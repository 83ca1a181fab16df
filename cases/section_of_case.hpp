#pragma once

#include <string>
#include <vector>

#include "cases/case.hpp"
#include "mesh/section.hpp"
#include "mesh/sizing.hpp"
#include "postproc/write_vtu.hpp"
#include "solver/coupled/loaded_coil.hpp"
#include "solver/field/medium.hpp"

namespace cw::cases {

/// How much work to spend: sizes of the mesh relative to the usual.
enum class Effort { fast, normal, fine };
Sizing sizing_for(Effort effort);

/// Temperatures of one working point; every body is uniform.
struct StateTemperatures {
  Temperature work;  ///< of the workpiece and of bodies that do not fix their own
  Temperature coil;
};

/// What one working point of a case hands to the mesh and the field: regions, their media, and
/// their names. Region ids: 0 air, then workpiece (if any), bodies in file order, turns in winding
/// order.
struct FieldModel {
  Section section;
  Media media;
  std::vector<RegionInfo> info;
  Winding winding;
};

/// Builds the model of a checked case at frequency `f` (the skin layers depend on it).
FieldModel field_model(const Case& subject, const StateTemperatures& t, Frequency f);

/// Temperature the coil has before anything heats it: given, else that of the coolant's inlet, else
/// 20 degC.
Temperature coil_temperature(const Coil& coil);

}  // namespace cw::cases
