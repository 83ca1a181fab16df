#pragma once

#include <functional>
#include <optional>
#include <vector>

namespace cw {

/// Fineness of the mesh. Lengths are relative to the skin depth and to clearances; the defaults
/// give about 0.1 % in resistance, inductance and power of an ordinary coil with rod (measured in
/// tests/convergence).
struct Sizing {
  double first_layer = 0.45;   ///< thickness of the layer at the surface / skin depth
  double growth = 1.6;         ///< of layer thickness with depth
  int layers = 5;              ///< at most; they end earlier where the body is thin
  double corner = 1.3;         ///< edge at a sharp corner of a conductor / skin depth
  double corner_growth = 1.2;  ///< increase of edge length with distance from that corner
  double clearance = 0.64;     ///< edge along a surface / distance to the nearest other surface
  double round = 22.0;         ///< edges round a disc, at least
  double open_edges = 20.0;    ///< edges on the open half circle
  /// For discs, whose layers extend to the bore or the middle; there the edges round them determine
  /// the error.
  double disc_first_layer = 0.55, disc_growth = 2.0;

  /// Every length multiplied by `factor` (< 1 is finer); growth rates follow.
  [[nodiscard]] Sizing scaled(double factor) const;
};

/// A second skin below the first: a magnetic core under a surface too hot to be magnetic.
struct BuriedSkin {
  double depth = 0.0;       ///< depth at which it begins [m]
  double skin_depth = 0.0;  ///< skin depth there [m]
};

/// Depths 0 = d0 < d1 < ... of the skin layers under a surface, none deeper than `available` [m].
/// Towards a buried skin they become as thin as its own, end at its depth, and begin anew.
std::vector<double> layer_depths(const Sizing& sizing, double skin_depth, double available,
                                 const std::optional<BuriedSkin>& buried = std::nullopt);

/// Parameters 0 = s0 < ... < sn = length such that edges are at most as long as the wanted edge
/// length `edge(s)` [m]; n >= `least`.
std::vector<double> spread(double length, const std::function<double(double)>& edge, int least);

}  // namespace cw
