#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "mesh/mesh.hpp"
#include "solver/field/field_solution.hpp"
#include "solver/outcome/local_heat.hpp"
#include "solver/outcome/region_info.hpp"

namespace cw {

/// A field with the mesh it lives on, for files and pictures. The referenced objects must outlive
/// it.
struct FieldView {
  const Mesh& mesh;
  const FieldSolution& field;
  std::vector<RegionInfo> regions;  ///< by RegionId
  const LocalHeat* heat = nullptr;  ///< instead of one temperature a region, when set
};

/// A field file for general viewers: second-order triangles, points (r, z, 0) in metres, each cell
/// with its own points because B and J jump between regions. rms phasors, units in the array names,
/// appended binary, zlib. Written beside `path` and renamed, so that a reader never sees half a
/// file. Independent of the locale. Throws WriteError.
void write_vtu(const std::filesystem::path& path, const FieldView& view);

struct TimeStep {
  double time = 0.0;  ///< [s]
  std::string file;   ///< relative to the collection
};

/// A time series as text: the collection (.pvd) that names one field file per step.
std::string field_collection(const std::vector<TimeStep>& steps);

}  // namespace cw
