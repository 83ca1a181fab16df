#pragma once

#include <optional>

#include "postproc/picture/canvas.hpp"
#include "postproc/result/designs.hpp"

namespace cw {

/// The rank key over the first two varied keys as cells of colour, the others as in the best
/// design; cells that break a limit are hatched, and a line for each limit parts what keeps it from
/// what does not. Nothing where fewer than two keys vary, or nothing is ranked.
std::optional<Canvas> design_map(const DesignSheet& sheet);

/// Every design by the rank key and the second key; the front, where neither can be bettered
/// without the other getting worse, joined. Nothing without a second key.
std::optional<Canvas> pareto_chart(const DesignSheet& sheet);

/// Each varied key alone, the others as in the best design: from where to where the rank key goes.
std::optional<Canvas> sensitivity_chart(const DesignSheet& sheet);

/// Places in sheet.best of the designs on the front, by rising first key; needs a second key.
std::vector<std::size_t> pareto_front(const DesignSheet& sheet);

}  // namespace cw
