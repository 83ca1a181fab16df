#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// A picture to show in the page.
struct ReportPicture {
  std::string name;  ///< "field", "current", "stray", each with "-<state>" where there are several;
                     ///< "heat-<number>"
  std::string
      svg;  ///< from svg_of(): goes into the page as it is, so foreign_in_drawing() finds nothing
  std::string values = {};  ///< from picture_values(): what the pointer is told; may be empty
  std::string moment = {};  ///< "after 46.2 s", of a heating run
};

/// The result as one page of HTML to read on a screen or print on A4 or Letter: verdict first,
/// cautions always. Nothing is loaded from anywhere: style sheet, script and pictures are inside,
/// and without the script everything is still there. Text from outside is escaped. Numbers have
/// three significant figures, lengths are in mm, temperatures in degC, currents and voltages say
/// rms or peak. Requires finite numbers.
std::string report_page(const Result& result, const std::vector<ReportPicture>& pictures);

}  // namespace cw
