#pragma once

#include <filesystem>

class vtkXMLWriter;

namespace cw {

/// Writes what the writer has been given as binary data; see replace_file(). Throws WriteError.
void write_vtk_file(const std::filesystem::path& path, vtkXMLWriter& writer);

}  // namespace cw
