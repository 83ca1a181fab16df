#pragma once

#include <string>
#include <vector>

#include "solver/outcome/result.hpp"

namespace cw {

/// A picture in the page.
struct ReportPicture {
  std::string name;  ///< "field", "current", "stray", each with "-<state>" if there are several;
                     ///< "heat-<number>"
  std::string
      svg;  ///< from svg_of(): goes into the page as it is, so foreign_in_drawing() finds nothing
  std::string values = {};  ///< from picture_values(): values for the pointer; may be empty
  std::string moment = {};  ///< "after 46.2 s", of a heating run
};

/// The result as one page of HTML to read on a screen or print on A4 or Letter: verdict first,
/// cautions always. The page loads nothing: style sheet, script and pictures are inside, and
/// without the script all content is still there. Text from outside is escaped. Numbers have three
/// significant figures, lengths are in mm, temperatures in degC; currents and voltages are marked
/// rms or peak. Requires finite numbers.
std::string report_page(const Result& result, const std::vector<ReportPicture>& pictures);

}  // namespace cw
