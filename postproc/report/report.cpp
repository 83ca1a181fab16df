#include "postproc/report/report.hpp"

#include <fmt/core.h>

#include "postproc/report/built_in_text.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"

namespace cw {

namespace {

std::vector<PageSection> sections_of(const Result& result,
                                     const std::vector<ReportPicture>& pictures) {
  std::vector<PageSection> sections;
  const auto add = [&](PageSection section) {
    if (!section.body.empty()) sections.push_back(std::move(section));
  };
  add(verdict_section(result));
  add(balance_section(result));
  add(states_section(result));
  add(heat_section(result));
  add(limits_section(result));
  add(cooling_section(result));
  add(built_parts_section(result));
  add(coil_section(result));
  add(pictures_section(result, pictures));
  add(stray_field_section(result, pictures));
  add(commissioning_section(result));
  add(parts_section(result));
  add(winding_section(result));
  add(recipe_section(result));
  add(accuracy_section(result));
  add(cautions_section(result));
  add(sources_section(result));
  add(making_section(result));
  return sections;
}

std::string head(const Result& result) {
  return fmt::format(
      "<head>\n<meta charset=\"utf-8\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
      "<meta name=\"color-scheme\" content=\"light dark\"/>\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
      "style-src 'unsafe-inline'; script-src 'unsafe-inline'\"/>\n"
      "<title>{} - calculated result</title>\n<style>\n{}</style>\n</head>\n",
      escaped(result.title), report_style());
}

std::string contents(const std::vector<PageSection>& sections) {
  std::string links;
  for (const auto& section : sections)
    links += fmt::format("<li><a href=\"#{}\">{}</a></li>\n", section.id, section.heading);
  return fmt::format("<nav aria-label=\"Contents\">\n<ul>\n{}</ul>\n</nav>\n", links);
}

/// Hidden until the script that serves it runs.
constexpr const char* unit_switch =
    "<form class=\"units\" hidden=\"\" aria-label=\"Units\">\n"
    "<label><input type=\"checkbox\" name=\"fahrenheit\"/> \u00b0F</label>\n"
    "<label><input type=\"checkbox\" name=\"inches\"/> inch</label>\n</form>\n";

}  // namespace

std::string report_page(const Result& result, const std::vector<ReportPicture>& pictures) {
  const std::vector<PageSection> sections = sections_of(result, pictures);
  std::string body;
  for (const auto& section : sections) {
    body += fmt::format(
        "<section id=\"{0}\" aria-labelledby=\"{0}-h\">\n<h2 id=\"{0}-h\">{1}</h2>\n{2}"
        "</section>\n",
        section.id, section.heading, section.body);
  }
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n{}<body>\n"
      "<a class=\"skip\" href=\"#verdict\">Skip to the verdict</a>\n"
      "<header>\n<p class=\"kind\">Induction heater, calculated "
      "result</p>\n<h1>{}</h1>\n</header>\n"
      "{}{}<main>\n{}</main>\n<footer>\n<p>coilwright {}, case "
      "{}</p>\n</footer>\n<script>\n{}</script>\n</body>\n</html>\n",
      head(result), escaped(result.title), contents(sections), unit_switch, body,
      escaped(result.build.version), escaped(result.case_sha256.substr(0, 12)), report_script());
}

}  // namespace cw
