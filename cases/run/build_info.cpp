#include "cases/run/build_info.hpp"

#include <fmt/format.h>

#include <Eigen/Core>

namespace cw::cases {

BuildInfo build_info() {
  BuildInfo info;
  info.version = CW_VERSION;
  info.compiler = fmt::format("g++ {}.{}.{}", __GNUC__, __GNUC_MINOR__, __GNUC_PATCHLEVEL__);
  info.libraries = {
      fmt::format("Eigen {}.{}.{}", EIGEN_WORLD_VERSION, EIGEN_MAJOR_VERSION, EIGEN_MINOR_VERSION),
      "Gmsh " CW_GMSH_VERSION, "VTK " CW_VTK_VERSION};
  return info;
}

}  // namespace cw::cases
