#pragma once

#include <optional>

#include "mesh/mesh.hpp"
#include "mesh/section.hpp"

namespace cw {

/// A mesh of `before` adapted to `now`, if the two differ only in the places of discs and in skin
/// depths. Discs move without deformation, the open circle becomes that of `now`, and the air
/// between deforms (displacements harmonic on the graph of the mesh). Numbers of nodes and
/// triangles stay. Nothing if the sections differ otherwise, if the mesh would be too coarse for
/// the new skin depths or gaps, or if a triangle would become flat.
std::optional<Mesh> move_rings(const Mesh& mesh, const Section& before, const Section& now);

/// Whether a mesh of `before` can be used for `now` unchanged: all places are the same, and its
/// layers suit the skin depths of `now`.
bool serves_as_it_is(const Section& before, const Section& now);

/// A section near this one, shared with its neighbours, whose mesh move_rings() adapts to each of
/// them: skin depths rounded down, gaps between successive discs rounded to steps, the middle of
/// each row kept. It depends only on the section, so a mesh moved from it does not depend on what
/// was meshed before.
Section shared_base(const Section& section);

}  // namespace cw
