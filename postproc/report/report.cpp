#include "postproc/report/report.hpp"

#include "postproc/report/page_frame.hpp"
#include "postproc/report/report_sections.hpp"

namespace cw {

std::string report_page(const Result& result, const std::vector<ReportPicture>& pictures) {
  const std::vector<PageSection> sections = {verdict_section(result),
                                             balance_section(result),
                                             states_section(result),
                                             heat_section(result),
                                             limits_section(result),
                                             cooling_section(result),
                                             built_parts_section(result),
                                             coil_section(result),
                                             pictures_section(result, pictures),
                                             stray_field_section(result, pictures),
                                             commissioning_section(result),
                                             parts_section(result),
                                             winding_section(result),
                                             recipe_section(result),
                                             accuracy_section(result),
                                             cautions_section(result),
                                             sources_section(result),
                                             making_section(result)};
  return framed_page({"Induction heater, calculated result", result.title, result.build.version,
                      result.case_sha256},
                     sections);
}

}  // namespace cw
