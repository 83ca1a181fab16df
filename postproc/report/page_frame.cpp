#include "postproc/report/page_frame.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "postproc/report/built_in_text.hpp"
#include "postproc/report/policy_hash.hpp"
#include "postproc/report/report_markup.hpp"

namespace cw {

namespace {

// Exactly the text between the tags: a browser hashes every byte of it.
std::string page_style() {
  return fmt::format("\n{}", report_style());
}

std::string page_script() {
  return fmt::format("\n{}", report_script());
}

/// The browser runs only our script and uses only our style sheet, by their hashes.
std::string head(const PageFrame& frame) {
  return fmt::format(
      "<head>\n<meta charset=\"utf-8\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
      "<meta name=\"color-scheme\" content=\"light dark\"/>\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; img-src data:; "
      "style-src '{}'; script-src '{}'; base-uri 'none'; form-action 'none'\"/>\n"
      "<title>{} - calculated result</title>\n<style>{}</style>\n</head>\n",
      policy_hash(page_style()), policy_hash(page_script()), escaped(frame.title), page_style());
}

bool any_folded(const std::vector<PageSection>& sections) {
  return std::ranges::any_of(
      sections, [](const PageSection& s) { return s.place == Place::folded && !s.body.empty(); });
}

/// Links to the sections; none if sections are folded, since their headings serve as contents.
std::string contents(const std::vector<PageSection>& sections) {
  if (any_folded(sections)) return "";
  std::string links;
  for (const auto& section : sections)
    if (!section.body.empty())
      links += fmt::format("<li><a href=\"#{}\">{}</a></li>\n", section.id, section.heading);
  return fmt::format("<nav aria-label=\"Contents\">\n<ul>\n{}</ul>\n</nav>\n", links);
}

/// Hidden until the script that it needs runs.
constexpr const char* unit_switch =
    "<form class=\"units\" hidden=\"\" aria-label=\"Units\">\n"
    "<label><input type=\"checkbox\" name=\"fahrenheit\"/> \u00b0F</label>\n"
    "<label><input type=\"checkbox\" name=\"inches\"/> inch</label>\n</form>\n";

/// The choice of what is printed, which the style sheet applies.
std::string paper_choice(const std::vector<PageSection>& sections) {
  if (!any_folded(sections)) return "";
  std::string sheets;
  for (const auto& section : sections)
    if (section.paper == Paper::own_sheet && !section.body.empty())
      sheets += fmt::format("<option value=\"{}\">{}</option>\n", section.id, section.heading);
  return fmt::format(
      "<form class=\"paper\" aria-label=\"Paper\">\n<label>On paper <select name=\"print\" "
      "autocomplete=\"off\">\n<option value=\"brief\" selected=\"\">Two pages</option>\n"
      "<option value=\"all\">Everything</option>\n{}</select></label>\n"
      "<button type=\"button\" hidden=\"\">Print</button>\n</form>\n",
      sheets);
}

std::string unfolded(const PageSection& section) {
  return fmt::format(
      "<section id=\"{0}\" aria-labelledby=\"{0}-h\">\n<h2 id=\"{0}-h\">{1}</h2>\n{2}"
      "</section>\n",
      section.id, section.heading, section.body);
}

const char* paper_class(Paper paper) {
  switch (paper) {
    case Paper::always:
      return "fold";
    case Paper::asked_for:
      return "fold extra";
    case Paper::own_sheet:
      break;
  }
  return "fold extra sheet";
}

/// The name of the section is inside, so that a browser can open it from a link without the script.
std::string folded_up(const PageSection& section) {
  return fmt::format(
      "<section class=\"{0}\" data-sheet=\"{1}\" aria-labelledby=\"{1}-h\">\n<details>\n"
      "<summary><h2 id=\"{1}-h\">{2}</h2>{3}</summary>\n<div class=\"inside\" id=\"{1}\">\n{4}"
      "</div>\n</details>\n</section>\n",
      paper_class(section.paper), section.id, section.heading,
      section.gist.empty() ? "" : fmt::format(" <span class=\"gist\">{}</span>", section.gist),
      section.body);
}

std::string main_of(const std::vector<PageSection>& sections) {
  std::string first, rest;
  for (const auto& section : sections) {
    if (section.body.empty()) continue;
    if (section.place == Place::first)
      first += unfolded(section);
    else
      rest += section.place == Place::folded ? folded_up(section) : unfolded(section);
  }
  return first.empty() ? rest : fmt::format("<div class=\"first\">\n{}</div>\n{}", first, rest);
}

}  // namespace

std::string framed_page(const PageFrame& frame, const std::vector<PageSection>& sections) {
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n{}<body>\n"
      "<a class=\"skip\" href=\"#verdict\">Skip to the verdict</a>\n"
      "<header>\n<div>\n<p class=\"kind\">{}</p>\n<h1>{}</h1>\n</div>\n"
      "<div class=\"controls\">\n{}{}</div>\n</header>\n"
      "{}<main>\n{}</main>\n<footer>\n<p>coilwright {}, case {}</p>\n"
      "<details id=\"licences\">\n<summary>Licences</summary>\n{}</details>\n</footer>\n"
      "<script>{}</script>\n</body>\n</html>\n",
      head(frame), frame.kind, escaped(frame.title), unit_switch, paper_choice(sections),
      contents(sections), main_of(sections), escaped(frame.version),
      escaped(frame.case_sha256.substr(0, 12)), report_licences(), page_script());
}

}  // namespace cw
