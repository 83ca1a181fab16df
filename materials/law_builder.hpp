#pragma once

#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "materials/material.hpp"

namespace cw {

/// The data of one source for a property: a constant, a table or closed pieces, in SI units.
struct LawBlock {
  std::variant<double, Table, std::vector<Piece>> shape = 0.0;
  double uncertainty = 0.0;
  Source source;
};

/// One law from all sources. Tables are merged and sorted by temperature. If there are closed
/// pieces too, the points of the tables continue them linearly beyond their ends. The widest stated
/// band holds for the whole law. Without a result, `complaint` says what was found, what is allowed
/// and what to write.
std::optional<Law> join(const std::vector<LawBlock>& blocks, std::string& complaint);

/// Adds the latent heats to a heat capacity, each as a step 10 K wide round its temperature, so
/// that the integral of the law is the enthalpy. Width: a choice of this project, narrow compared
/// with any heating and wide enough for time steps. Returns a complaint, empty if there is none.
std::string fold_in(Law& heat_capacity, std::span<const Transformation> transformations);

}  // namespace cw
