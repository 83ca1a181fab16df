#include <fmt/core.h>

#include <algorithm>
#include <cassert>

#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"

namespace cw {

namespace {

/// The state a picture belongs to: "Cold" of "field-cold"; empty where there is one state only.
std::string state_of(const std::string& name) {
  const std::size_t dash = name.find('-');
  return dash == std::string::npos ? "" : capitalised(state_words(name.substr(dash + 1)));
}

/// The drawing as an element of the page: the page gives it its width, and it needs no name of a
/// language.
std::string inlined(const std::string& svg, const std::string& label) {
  const std::size_t start = svg.find("<svg "), open = svg.find('>', start);
  assert(start != std::string::npos && open != std::string::npos);
  const std::string tag = svg.substr(start, open - start);
  const std::size_t box = tag.find("viewBox=\"");
  assert(box != std::string::npos);
  const std::string view = tag.substr(box, tag.find('"', box + 9) + 1 - box);
  return fmt::format(
      "<svg {} role=\"img\" aria-label=\"{}\" font-family=\"'DejaVu Sans', Verdana, "
      "sans-serif\"{}",
      view, label, svg.substr(open));
}

}  // namespace

PageSection pictures_section(const std::vector<ReportPicture>& pictures) {
  std::string text;
  for (const auto& picture : pictures) {
    const std::string state = state_of(picture.name);
    const std::string caption = fmt::format(
        "{}{}PageSection through coil and work, mirrored about the axis, sizes in mm. Left: flux "
        "density, mT rms. Right: power density, W/cm\u00b3, each step of the scale ten times the "
        "last.",
        state, state.empty() ? "" : ". ");
    text += fmt::format(
        "<figure>\n<div class=\"scroll\" role=\"region\" aria-label=\"Drawing\" "
        "tabindex=\"0\">\n{}</div>\n"
        "<figcaption>{}</figcaption>\n</figure>\n",
        inlined(picture.svg, caption), caption);
  }
  return {"field", "Field and heat", text};
}

}  // namespace cw
