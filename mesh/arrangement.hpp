#pragma once

#include <optional>
#include <vector>

#include "mesh/section.hpp"

namespace cw {

/// A straight line between two corners without another corner between, or the open half circle.
struct Curve {
  int from = 0, to = 0;      ///< corner indices
  int left = 0, right = 0;   ///< region on each side; `outside` beyond the domain
  bool arc = false;          ///< the open half circle
  std::optional<Side> side;  ///< set on the border of the domain
  static constexpr int outside = -1;

  /// Bodies continue beyond the axis and cut planes: no surface, no skin layer there.
  [[nodiscard]] bool cut() const {
    return side == Side::axis || side == Side::top || side == Side::bottom;
  }
};

/// A curve passed forwards (region to its left) or backwards (region to its right).
struct Step {
  int curve;
  bool forward;
};

/// Closed paths with one region on the left.
using Loop = std::vector<Step>;

/// Polygons and domain border, cut into curves that meet only at corners. Discs are separate and
/// not included.
struct Arrangement {
  std::vector<Point> corners;
  std::vector<Curve> curves;
  std::vector<std::vector<Loop>> loops;  ///< by RegionId; empty for air and for discs

  [[nodiscard]] int start(const Step& s) const;
  [[nodiscard]] int end(const Step& s) const;
};

/// Splits every side at the corners on it, so that touching bodies share curves. Throws MeshError
/// if two regions lie on the same side of a curve (they overlap).
Arrangement arrange(const Section& section, const OpenSpace& open);

}  // namespace cw
