#pragma once

#include <array>
#include <complex>
#include <vector>

#include "mesh/mesh.hpp"
#include "solver/field/field_solution.hpp"
#include "solver/outcome/local_heat.hpp"

namespace cw {

/// The part of the half-plane that a picture shows [m].
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
  std::vector<float> celsius;        ///< empty without a LocalHeat, 0 in air
  [[nodiscard]] std::size_t index(int column, int row) const;
};

/// B_r and B_z at the nodes [T] rms.
using NodalFlux = std::vector<std::array<std::complex<double>, 2>>;

/// In air: the mean over the triangles that meet at a node, weighted with their areas, because B
/// jumps from triangle to triangle and its contours would be jagged. 0 at nodes without air.
NodalFlux mean_flux_in_air(const Mesh& mesh, const FieldSolution& field);

/// A field, and the heat in it if known.
struct SampledField {
  const Mesh& mesh;
  const FieldSolution& field;
  const LocalHeat* heat = nullptr;
  const NodalFlux* air_flux = nullptr;  ///< if set, |B| in air is interpolated from it
  bool air_wanted = true;               ///< false: the field in air is not sampled
};

/// A grid of rectangular pixels, from a corner inwards and downwards [m].
struct SampleGrid {
  double left = 0.0, top = 0.0;
  double across = 0.0, down = 0.0;  ///< sides of a pixel
  int columns = 0, rows = 0;
};

/// Samples the centres of the pixels of a grid.
FieldSamples sample_grid(const SampledField& of, const SampleGrid& grid);

/// Samples the window with pixels of side `step` [m]. Curved triangles are inverted exactly.
FieldSamples sample_field(const SampledField& of, const Window& window, double step);

/// The value that this share (0 to 1) of the samples > 0 do not exceed; 0 without any.
double quantile(std::vector<float> values, double share);

}  // namespace cw
