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
  std::vector<std::vector<std::int64_t>> polygons;  ///< indices of the points of each
  struct Values {
    std::string name;  ///< with its unit
    std::vector<double> values;
  };
  std::vector<Values> at_points, at_polygons;  ///< viewers show the first at points first
  std::vector<std::string> region_names = {};  ///< by the number in "region id"; empty: none
  std::string state = {};                      ///< of the heater, as people say it
};

/// The point (r, phi, z) in the coordinates of all field files: y is the axis, x the radius of the
/// section at phi = 0, and phi turns from x towards -z.
std::array<double, 3> in_the_room(double r, double phi, double z);

/// Writes it as .vtp, appended binary, zlib, beside `path` and renamed. Throws WriteError.
void write_poly_file(const std::filesystem::path& path, const PolySurface& surface);

}  // namespace cw
