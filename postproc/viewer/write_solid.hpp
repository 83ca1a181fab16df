#pragma once

#include <filesystem>

#include "postproc/viewer/write_vtu.hpp"
#include "solver/outcome/result.hpp"

namespace cw {

/// Workpiece and other bodies turned about the axis by three quarters, cut faces included, as a
/// surface (.vtp) for general viewers: power density, |B| and temperature as point data, region as
/// cell data; coordinates as for the section, see in_the_room() [m]. Throws WriteError.
void write_solid(const std::filesystem::path& path, const FieldView& view);

/// The coil as it is wound, a helix, spiral or rings with the conductor's own outline, as a surface
/// (.vtp) with the loss per metre of conductor as point data. Needs a design. Throws WriteError.
void write_coil(const std::filesystem::path& path, const Coil& coil, const CoilResult& solved);

}  // namespace cw
