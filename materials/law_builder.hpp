#pragma once

#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "materials/material.hpp"

namespace cw {

/// What one source says of a property: a constant, a table or closed pieces, in SI units.
struct LawBlock {
  std::variant<double, Table, std::vector<Piece>> shape = 0.0;
  double uncertainty = 0.0;
  Source source;
};

/// One law from all sources: tables are merged and sorted by temperature; where closed pieces are
/// given too, the points of a table continue them beyond their ends with straight lines. The widest
/// stated band holds for the whole law. Without a result, `complaint` says found / allowed / what
/// to write.
std::optional<Law> join(const std::vector<LawBlock>& blocks, std::string& complaint);

/// Puts the latent heats into a heat capacity, each as a step 10 K wide round its temperature, so
/// that the integral of the law is the enthalpy. Width: a choice of this project, narrow against
/// any heating and wide enough to step through. Returns a complaint, empty when all is well.
std::string fold_in(Law& heat_capacity, std::span<const Transformation> transformations);

}  // namespace cw
