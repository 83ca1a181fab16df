#pragma once

#include <optional>
#include <string>
#include <vector>

#include "postproc/result/read_designs.hpp"

namespace cw {

/// A number of every design as the page of a sweep shows it.
struct SweepFigure {
  std::string key;                   ///< of the result
  std::string name;                  ///< in words: "coil loss, cold"
  std::string unit;                  ///< "W"; "degC" for temperatures, "%" for shares; may be empty
  double scale = 1.0, offset = 0.0;  ///< shown = scale value + offset
  [[nodiscard]] std::optional<double> of(const Figures& figures) const;
};

/// How one key is shown.
SweepFigure sweep_figure(const std::string& key);

/// What the page compares designs by: the keys of the ranking first, then what a maker asks of
/// every state, the heating run and the limits. Only what at least one design has.
std::vector<SweepFigure> sweep_figures(const DesignsFile& designs);

/// "1.04 µH", "412 °C"; escaped, with a no-break space.
std::string shown_figure(const SweepFigure& figure, double value);

}  // namespace cw
