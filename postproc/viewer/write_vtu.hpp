#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "mesh/mesh.hpp"
#include "solver/field/field_solution.hpp"
#include "solver/outcome/local_heat.hpp"
#include "solver/outcome/region_info.hpp"

namespace cw {

/// A field with its mesh, for files and pictures. The referenced objects must outlive it.
struct FieldView {
  const Mesh& mesh;
  const FieldSolution& field;
  std::vector<RegionInfo> regions;  ///< by RegionId
  const LocalHeat* heat = nullptr;  ///< if set, used instead of one temperature per region
  std::string name = {};            ///< of the state or the moment, as people say it
};

/// The array that viewers show first.
inline constexpr const char* power_density_array = "power density [W/m3]";

/// A field file for general viewers: second-order triangles, points (r, z, 0) in metres. Each cell
/// has its own points, because B and J jump between regions. x is the radius, y the axis, and phi
/// turns from x away from the viewer, so J lies along -z. rms phasors as parts and as vectors; r
/// A_phi, whose contours are flux lines; units in the array names. The temperature of air is NaN.
/// The power density is the array shown first. Region, material and state are named in the field
/// data. Appended binary, zlib. Written beside `path` and renamed, so that a reader never sees half
/// a file. Independent of the locale. Throws WriteError.
void write_vtu(const std::filesystem::path& path, const FieldView& view);

struct TimeStep {
  double time = 0.0;      ///< [s]
  std::string file;       ///< relative to the collection
  std::string name = {};  ///< of the state or the moment
};

/// A time series as text: the collection (.pvd) that lists one field file per step with its name.
std::string field_collection(const std::vector<TimeStep>& steps);

}  // namespace cw
