#pragma once

#include <map>
#include <string>
#include <vector>

#include "cases/case.hpp"
#include "postproc/picture/picture.hpp"

namespace cw::cases {

/// The labels of work and bodies in a picture, by region: name and material.
std::map<std::string, std::string> picture_labels(const Case& subject);

/// The sizes drawn in a picture: of the coil and, if wanted, of the workpiece.
std::vector<DimensionLine> picture_dimensions(const Case& subject, bool with_work);

}  // namespace cw::cases
