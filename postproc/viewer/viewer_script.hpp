#pragma once

#include <string>

namespace cw {

/// A Python script that opens the field files beside it with the VTK module for Python: power
/// density on a logarithmic scale, titles, flux lines, curved triangles subdivided. It needs
/// nothing else. The same text for every result.
std::string viewer_script();

}  // namespace cw
