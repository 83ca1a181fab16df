#pragma once

#include <optional>

#include "mesh/mesh.hpp"
#include "mesh/section.hpp"

namespace cw {

/// A mesh of `before` made to fit `now`, where that differs only in where its discs lie and in skin
/// depths: discs move as they are, the open circle becomes that of `now`, the air between gives way
/// (displacements harmonic on the graph of the mesh), numbers of nodes and triangles stay. Nothing
/// where the sections differ otherwise, where the mesh would be too coarse for the new skin depths
/// or gaps, or where a triangle would become flat.
std::optional<Mesh> move_rings(const Mesh& mesh, const Section& before, const Section& now);

/// Whether a mesh of `before` serves `now` unmoved: all lies where it lay, and its layers suit the
/// skin depths of `now`.
bool serves_as_it_is(const Section& before, const Section& now);

/// A section near this one that its neighbours share, whose mesh move_rings() makes fit each of
/// them: skin depths rounded down, gaps between successive discs rounded to steps, the middle of
/// each row kept. It follows from the section alone, so that a mesh moved from it does not depend
/// on what was meshed before.
Section shared_base(const Section& section);

}  // namespace cw
