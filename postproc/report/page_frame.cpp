#include "postproc/report/page_frame.hpp"

#include <fmt/core.h>

#include "postproc/report/built_in_text.hpp"
#include "postproc/report/policy_hash.hpp"
#include "postproc/report/report_markup.hpp"

namespace cw {

namespace {

// Each stands between its tags as here: a browser hashes every byte there.
std::string page_style() {
  return fmt::format("\n{}", report_style());
}

std::string page_script() {
  return fmt::format("\n{}", report_script());
}

/// The browser runs our script and obeys our style sheet by their hashes, and no other.
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

std::string contents(const std::vector<PageSection>& sections) {
  std::string links;
  for (const auto& section : sections)
    if (!section.body.empty())
      links += fmt::format("<li><a href=\"#{}\">{}</a></li>\n", section.id, section.heading);
  return fmt::format("<nav aria-label=\"Contents\">\n<ul>\n{}</ul>\n</nav>\n", links);
}

/// Hidden until the script that serves it runs.
constexpr const char* unit_switch =
    "<form class=\"units\" hidden=\"\" aria-label=\"Units\">\n"
    "<label><input type=\"checkbox\" name=\"fahrenheit\"/> \u00b0F</label>\n"
    "<label><input type=\"checkbox\" name=\"inches\"/> inch</label>\n</form>\n";

}  // namespace

std::string framed_page(const PageFrame& frame, const std::vector<PageSection>& sections) {
  std::string body;
  for (const auto& section : sections) {
    if (section.body.empty()) continue;
    body += fmt::format(
        "<section id=\"{0}\" aria-labelledby=\"{0}-h\">\n<h2 id=\"{0}-h\">{1}</h2>\n{2}"
        "</section>\n",
        section.id, section.heading, section.body);
  }
  return fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n{}<body>\n"
      "<a class=\"skip\" href=\"#verdict\">Skip to the verdict</a>\n"
      "<header>\n<p class=\"kind\">{}</p>\n<h1>{}</h1>\n</header>\n"
      "{}{}<main>\n{}</main>\n<footer>\n<p>coilwright {}, case "
      "{}</p>\n</footer>\n<script>{}</script>\n</body>\n</html>\n",
      head(frame), frame.kind, escaped(frame.title), contents(sections), unit_switch, body,
      escaped(frame.version), escaped(frame.case_sha256.substr(0, 12)), page_script());
}

}  // namespace cw
