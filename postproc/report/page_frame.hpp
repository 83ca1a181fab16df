#pragma once

#include <string>
#include <vector>

#include "postproc/report/report_sections.hpp"

namespace cw {

/// Everything in a page round its sections.
struct PageFrame {
  std::string kind;   ///< of the page, above its title: "Induction heater, calculated result"
  std::string title;  ///< not escaped
  std::string version, case_sha256;
};

/// The page: head with its style, title, switches for units, choice of what is printed, sections,
/// scripts; a table of contents if no section is folded. Sections without a body are left out.
std::string framed_page(const PageFrame& frame, const std::vector<PageSection>& sections);

}  // namespace cw
