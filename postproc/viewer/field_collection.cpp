#include <fmt/core.h>

#include "postproc/viewer/write_vtu.hpp"

namespace cw {

std::string field_collection(const std::vector<TimeStep>& steps) {
  std::string text =
      "<?xml version=\"1.0\"?>\n"
      "<VTKFile type=\"Collection\" version=\"0.1\" byte_order=\"LittleEndian\">\n"
      "  <Collection>\n";
  for (const auto& step : steps) {
    const std::string name = step.name.empty() ? "" : fmt::format(" name=\"{}\"", step.name);
    text += fmt::format("    <DataSet timestep=\"{}\" group=\"\" part=\"0\" file=\"{}\"{}/>\n",
                        step.time, step.file, name);
  }
  return text + "  </Collection>\n</VTKFile>\n";
}

}  // namespace cw
