#pragma once

#include <array>
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

namespace cw {

/// A surface as plain data: points, polygons, named values.
struct PolySurface {
  std::vector<std::array<double, 3>> points;        ///< [m]
  std::vector<std::vector<std::int64_t>> polygons;  ///< points of each
  struct Values {
    std::string name;  ///< with its unit
    std::vector<double> values;
  };
  std::vector<Values> at_points, at_polygons;
};

/// Writes it as .vtp, appended binary, zlib, beside `path` and renamed. Throws WriteError.
void write_poly_file(const std::filesystem::path& path, const PolySurface& surface);

}  // namespace cw
