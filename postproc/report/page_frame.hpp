#pragma once

#include <string>
#include <vector>

#include "postproc/report/report_sections.hpp"

namespace cw {

/// What stands round the sections of a page.
struct PageFrame {
  std::string kind;   ///< of the page, above its title: "Induction heater, calculated result"
  std::string title;  ///< not escaped
  std::string version, case_sha256;
};

/// The page: head with its style, title, unit boxes, choice of what is printed, sections, scripts;
/// contents where nothing is folded. Sections without a body are left out.
std::string framed_page(const PageFrame& frame, const std::vector<PageSection>& sections);

}  // namespace cw
