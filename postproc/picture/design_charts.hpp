#pragma once

#include <optional>

#include "postproc/picture/canvas.hpp"
#include "postproc/result/designs.hpp"

namespace cw {

/// The rank key over the first two varied keys as coloured cells, with the other keys as in the
/// best design. Cells that break a limit are hatched; for each limit a line separates designs that
/// keep it from those that break it. Nothing if fewer than two keys vary, or nothing is ranked.
std::optional<Canvas> design_map(const DesignSheet& sheet);

/// Every design by the rank key and the second key. A line joins the front: designs that no other
/// design betters in both keys. Nothing without a second key.
std::optional<Canvas> pareto_chart(const DesignSheet& sheet);

/// The range of the rank key when each varied key varies alone, the others as in the best design.
std::optional<Canvas> sensitivity_chart(const DesignSheet& sheet);

/// Indices in sheet.best of the designs on the front, by rising first key; needs a second key.
std::vector<std::size_t> pareto_front(const DesignSheet& sheet);

}  // namespace cw
