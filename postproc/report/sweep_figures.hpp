#pragma once

#include <optional>
#include <string>
#include <vector>

#include "postproc/result/read_designs.hpp"

namespace cw {

/// A figure of every design, and how the page of a sweep shows it.
struct SweepFigure {
  std::string key;                   ///< of the result
  std::string name;                  ///< in words: "coil loss, cold"
  std::string unit;                  ///< "W"; "degC" for temperatures, "%" for shares; may be empty
  double scale = 1.0, offset = 0.0;  ///< shown = scale value + offset
  [[nodiscard]] std::optional<double> of(const Figures& figures) const;
};

/// How one key is shown.
SweepFigure sweep_figure(const std::string& key);

/// The figures by which the page compares designs: the keys of the ranking first, then those that
/// matter for every state, the heating run and the limits. Only figures of at least one design.
std::vector<SweepFigure> sweep_figures(const DesignsFile& designs);

/// "1.04 µH", "412 °C"; escaped, with a no-break space.
std::string shown_figure(const SweepFigure& figure, double value);

}  // namespace cw
