#pragma once

#include <vector>

#include "mesh/mesh.hpp"
#include "solver/field/field_solution.hpp"
#include "solver/outcome/local_heat.hpp"

namespace cw {

/// The part of the half-plane a picture shows [m].
struct Window {
  double radius = 0.0, bottom = 0.0, top = 0.0;
};

/// A field at the centres of square pixels, rows from the top, columns from the axis outwards.
struct FieldSamples {
  int columns = 0, rows = 0;
  std::vector<RegionId> region;      ///< -1 outside the mesh
  std::vector<float> flux_rms;       ///< |B| [T]
  std::vector<float> power_density;  ///< [W/m^3]
  std::vector<float> current_rms;    ///< |J| [A/m^2]
  std::vector<float> celsius;        ///< empty without a LocalHeat
  [[nodiscard]] std::size_t index(int column, int row) const;
};

/// A field, with what is known of the heat in it.
struct SampledField {
  const Mesh& mesh;
  const FieldSolution& field;
  const LocalHeat* heat = nullptr;
};

/// Samples the window with pixels of side `step` [m]. Curved triangles are inverted exactly.
FieldSamples sample_field(const SampledField& of, const Window& window, double step);

/// The value that a share (0 to 1) of the samples > 0 do not exceed; 0 without any.
double quantile(std::vector<float> values, double share);

}  // namespace cw
