#pragma once

#include <string>
#include <vector>

#include "tests/accuracy/draw.hpp"

namespace cw::accuracy {

/// A corner of a section in the half-plane [mm].
struct Corner {
  double r = 0.0, z = 0.0;
};

/// A body of revolution as a case file writes it; lengths [mm].
struct Part {
  std::string name;  ///< empty: the workpiece
  std::string material;
  double inner = 0.0, outer = 0.0, low = 0.0, high = 0.0;
  std::vector<Corner> profile = {};  ///< empty: the cylinder between inner, outer, low and high
  std::string temperature = {};      ///< the line that states it
  bool useful = false;
};

/// The section of a case as TOML, shifted by `shift` along the axis.
std::string written(const Part& part, double shift);

/// A workpiece with the bodies in and round it, its lower end at z = 0.
struct Work {
  std::string kind;              ///< see Classes::work; "none": nothing at all
  std::vector<Part> parts = {};  ///< the workpiece first
  double outer = 0.0;            ///< radius over all [mm]
  double low = 0.0, high = 0.0;
  double thickness = 0.0;   ///< wall, or radius of what is solid [mm]
  double degrees = 20.0;    ///< of the workpiece [degC]
  std::string bodies = {};  ///< see Classes::bodies
};

Work random_work(Draw& draw);

/// Counts another body of this kind.
void add_kind(std::string& bodies, const std::string& kind);

}  // namespace cw::accuracy
