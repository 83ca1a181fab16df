#include <fmt/core.h>

#include <algorithm>

#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"
#include "postproc/result/leading_state.hpp"

namespace cw {

namespace {

/// The state of a picture: "Cold" of "field-cold"; empty if there is only one state.
std::string state_of(const std::string& name) {
  const std::size_t dash = name.find('-');
  return dash == std::string::npos ? "" : capitalised(state_words(name.substr(dash + 1)));
}

std::string kind_of(const std::string& name) {
  return name.substr(0, name.find('-'));
}

const char* words_of(const std::string& kind) {
  if (kind == "field")
    return "Section through coil and work, mirrored about the axis, sizes in mm. Left: flux "
           "density, mT rms. Right: power density, W/cm\u00b3, logarithmic scale.";
  if (kind == "heat")
    return "Section through coil and work, mirrored about the axis, sizes in mm. Left: "
           "temperature, \u00b0C. Right: power density, W/cm\u00b3, logarithmic scale.";
  if (kind == "current")
    return "The conductors in detail. Left: current density in the turns, A/mm\u00b2 rms. Right: "
           "power "
           "density, W/cm\u00b3, logarithmic scale.";
  return "Stray field: flux density in \u00b5T rms, with the coil in the middle.";
}

std::string picture_figure(const ReportPicture& picture) {
  const std::string state =
      picture.moment.empty() ? state_of(picture.name) : capitalised(escaped(picture.moment));
  const std::string caption =
      fmt::format("{}{}{}", state, state.empty() ? "" : ". ", words_of(kind_of(picture.name)));
  const bool told = !picture.values.empty();
  return fmt::format(
      "<figure class=\"picture\" data-name=\"{}\" data-state=\"{}\">\n<div class=\"scroll\" "
      "role=\"region\" aria-label=\"Drawing\" "
      "tabindex=\"0\">\n{}</div>\n{}<figcaption>{}</figcaption>\n{}</figure>\n",
      escaped(picture.name), state, inlined_drawing(picture.svg, caption),
      told ? "<p class=\"reading\" aria-live=\"polite\"></p>\n" : "", caption,
      told ? script_data(picture.values) : "");
}

/// All pictures of one kind; for several states with a slider, which needs the script to appear. It
/// begins at the picture of the state `first`.
std::string series_of(const std::vector<ReportPicture>& pictures, const std::string& kind,
                      const std::string& first) {
  std::string text;
  int count = 0, begin = 0;
  for (const auto& picture : pictures) {
    if (kind_of(picture.name) != kind) continue;
    if (picture.name == kind + "-" + first) begin = count;
    text += picture_figure(picture);
    ++count;
  }
  if (count < 2) return text;
  if (kind == "heat") begin = count - 1;  // the last moment
  return fmt::format(
      "<div class=\"series\">\n<p class=\"slide\" hidden=\"\"><label>{}: <output></output>\n<input "
      "type=\"range\" min=\"0\" max=\"{}\" step=\"1\" value=\"{}\"/></label></p>\n{}</div>\n",
      kind == "heat" ? "Moment" : "State", count - 1, begin, text);
}

}  // namespace

PageSection cut_open_section(const std::vector<ReportPicture>& pictures) {
  const auto solid = std::ranges::find_if(
      pictures, [](const ReportPicture& picture) { return kind_of(picture.name) == "solid"; });
  if (solid == pictures.end()) return {};
  const std::string state = state_of(solid->name);
  return {"cut-open", "Coil and work, cut open",
          fmt::format("<figure class=\"solid\">\n{}</figure>\n",
                      inlined_drawing(solid->svg, fmt::format("Coil and work, cut open. {}",
                                                              plain_state(state))))};
}

PageSection pictures_section(const Result& result, const std::vector<ReportPicture>& pictures) {
  const StateResult* leading = leading_state(result);
  const std::string first = leading == nullptr ? "" : leading->name;
  return {"field", "Field and heat",
          series_of(pictures, "heat", "") + series_of(pictures, "field", first) +
              series_of(pictures, "current", first)};
}

std::string stray_figure(const std::vector<ReportPicture>& pictures) {
  return series_of(pictures, "stray", "");
}

}  // namespace cw
