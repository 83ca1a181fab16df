#pragma once

#include <filesystem>

class vtkXMLWriter;

namespace cw {

/// Writes the writer's data as a binary file; see replace_file(). Throws WriteError.
void write_vtk_file(const std::filesystem::path& path, vtkXMLWriter& writer);

}  // namespace cw
