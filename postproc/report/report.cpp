#include "postproc/report/report.hpp"

#include <fmt/core.h>

#include "postproc/report/page_frame.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/result/leading_state.hpp"

namespace cw {

namespace {

PageSection first(PageSection section) {
  section.place = Place::first;
  return section;
}

PageSection folded(PageSection section, std::string gist = "", Paper paper = Paper::asked_for) {
  section.place = Place::folded;
  section.paper = paper;
  section.gist = std::move(gist);
  return section;
}

std::string gist_of_warnings(const Result& result) {
  return fmt::format("{} {}", result.warnings.size(),
                     result.warnings.size() == 1 ? "note" : "notes");
}

std::string gist_of_limits(const Result& result) {
  int stop = 0, watch = 0;
  for (const LimitResult& limit : result.limits) {
    stop += limit.verdict == Verdict::stop ? 1 : 0;
    watch += limit.verdict == Verdict::watch ? 1 : 0;
  }
  if (stop + watch == 0) return "all limits kept";
  return fmt::format("{} exceeded, {} to watch", stop, watch);
}

std::string gist_of_heat(const Result& result) {
  if (!result.heat || result.heat->lines.empty()) return "";
  return "ends after " + shown(result.heat->lines.back().time, "s");
}

std::string gist_of_power(const Result& result) {
  const StateResult* state = leading_state(result);
  return state != nullptr && state->efficiency ? shown_percent(*state->efficiency) + " is useful"
                                               : "";
}

std::string gist_of_stray_field(const Result& result) {
  return result.exposure && result.exposure->keep_out
             ? "keep out " + shown_distance(*result.exposure->keep_out)
             : "";
}

}  // namespace

std::string report_page(const Result& result, const std::vector<ReportPicture>& pictures) {
  const std::vector<PageSection> sections = {
      first(verdict_section(result)),
      first(cut_open_section(pictures)),
      first(recipe_section(result)),
      first(care_section(result)),
      folded(warnings_section(result), gist_of_warnings(result)),
      folded(limits_section(result), gist_of_limits(result), Paper::always),
      folded(heat_section(result), gist_of_heat(result)),
      folded(balance_section(result), gist_of_power(result)),
      folded(pictures_section(result, pictures), "section through coil and work"),
      folded(states_section(result)),
      folded(cooling_section(result)),
      folded(built_parts_section(result)),
      folded(coil_section(result), "drawn to scale"),
      folded(stray_field_section(result, pictures), gist_of_stray_field(result)),
      folded(parts_section(result)),
      folded(winding_section(result)),
      folded(joints_section(result)),
      folded(commissioning_section(result), "what to measure first", Paper::own_sheet),
      folded(recipe_card_section(result), "to pin up", Paper::own_sheet),
      folded(cautions_section(result), "in full", Paper::always),
      folded(accuracy_section(result)),
      folded(sources_section(result)),
      folded(making_section(result))};
  return framed_page({"Induction heater, calculated result", result.title, result.build.version,
                      result.case_sha256},
                     sections);
}

}  // namespace cw
