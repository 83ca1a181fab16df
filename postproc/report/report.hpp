#pragma once

#include <string>
#include <vector>

#include "postproc/result/result.hpp"

namespace cw {

/// A picture to show in the page.
struct ReportPicture {
  std::string name;  ///< "field", or "field-<state>" where there are several states
  std::string svg;   ///< from svg_of(): goes into the page as it is, so it must be our own
};

/// The result as one page of HTML to read on a screen or print on A4 or Letter: verdict first,
/// cautions always. Nothing is loaded from anywhere: style sheet and pictures are inside, and there
/// is no script. Text from outside is escaped. Numbers have three significant figures, lengths are
/// in mm, temperatures in degC, currents and voltages say rms or peak. Requires finite numbers.
std::string report_page(const Result& result, const std::vector<ReportPicture>& pictures);

}  // namespace cw
