#include "cases/live/live_page.hpp"

#include <fmt/format.h>

#include "cases/live/live_text.hpp"
#include "materials/library.hpp"
#include "postproc/report/built_in_text.hpp"
#include "postproc/report/policy_hash.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/result/cautions.hpp"

namespace cw::cases {

namespace {

std::string materials_list() {
  std::string options;
  for (const std::string& name : material_names())
    options += fmt::format("<option value=\"{}\"></option>\n", escaped(name));
  return fmt::format("<datalist id=\"materials\">\n{}</datalist>\n", options);
}

constexpr const char* buttons =
    "<p class=\"buttons\">\n"
    "<button type=\"button\" id=\"undo\">Undo</button>\n"
    "<button type=\"button\" id=\"redo\">Redo</button>\n"
    "<button type=\"button\" id=\"keep\">Keep</button>\n"
    "<button type=\"button\" id=\"save\">Save</button>\n"
    "<button type=\"button\" id=\"report\">Report</button>\n"
    "<label>Begin with <select id=\"starters\"><option "
    "value=\"\">\u2013</option></select></label>\n</p>\n"
    "<p id=\"said\" class=\"quiet\" role=\"status\"></p>\n";

/// A value to sweep: which, from where to where, in how many steps.
std::string axis_row(int number) {
  const char* words = number == 1 ? "Sweep" : "and";
  return fmt::format(
      "<p data-axis=\"{0}\"><label>{1} <select data-part=\"key\"></select></label> "
      "<label>from <input data-part=\"from\" size=\"8\" autocomplete=\"off\"/></label> "
      "<label>to <input data-part=\"to\" size=\"8\" autocomplete=\"off\"/></label> "
      "<label>in <select data-part=\"count\"><option>3</option><option selected=\"\">5</option>"
      "<option>7</option><option>9</option></select> values</label></p>\n",
      number, words);
}

std::string sweep_form() {
  return fmt::format(
      "<details id=\"over\">\n<summary>Sweep over one or two values</summary>\n"
      "<form id=\"sweep-form\">\n{}{}<p><button type=\"submit\">Start the sweep</button></p>\n"
      "<p id=\"sweep-says\" class=\"quiet\" role=\"status\"></p>\n"
      "</form>\n</details>\n",
      axis_row(1), axis_row(2));
}

std::string case_side(const std::string& text) {
  return fmt::format(
      "<section id=\"case\" aria-labelledby=\"case-h\">\n<h2 id=\"case-h\">The case</h2>\n"
      "<div id=\"drawing\" hidden=\"\">\n<div class=\"part\"></div>\n<p class=\"quiet\">The "
      "squares "
      "change sizes: pull them, or step them with the arrow keys.</p>\n</div>\n"
      "<form id=\"fields\" class=\"fields\" aria-label=\"Most used values\"></form>\n{}"
      "<label for=\"text\">Text of the case</label>\n"
      "<textarea id=\"text\" spellcheck=\"false\" autocomplete=\"off\" autocapitalize=\"off\" "
      "wrap=\"off\" rows=\"24\" aria-describedby=\"mistakes\">\n{}</textarea>\n{}"
      "<div id=\"mistakes\" role=\"status\"></div>\n{}</section>\n",
      buttons, escaped(text), materials_list(), sweep_form());
}

/// An empty section of the answer, filled as its part arrives.
std::string place_for(const char* id, const char* heading) {
  return fmt::format(
      "<section id=\"{0}\" aria-labelledby=\"{0}-h\" hidden=\"\">\n<h2 id=\"{0}-h\">{1}</h2>\n"
      "<div class=\"part\"></div>\n</section>\n",
      id, heading);
}

std::string answer_side() {
  return "<div id=\"answer\">\n<p id=\"computing\" class=\"quiet\" role=\"status\"></p>\n"
         "<p id=\"failed\" class=\"lead no\" role=\"alert\" hidden=\"\"></p>\n"
         "<div id=\"crossed\" role=\"alert\" hidden=\"\"></div>\n"
         "<section id=\"verdict\" aria-labelledby=\"verdict-h\">\n"
         "<h2 id=\"verdict-h\">Will it do the job?</h2>\n"
         "<div class=\"part\" aria-live=\"polite\"></div>\n"
         "<ul id=\"lamps\" class=\"lamps\" aria-label=\"Limits\"></ul>\n</section>\n" +
         place_for("states", "States") + place_for("limits", "Limits") +
         place_for("warnings", "Where the model is less accurate") +
         place_for("variants", "Variants") + place_for("field", "Field") +
         place_for("demand", "Demand while the work warms") + place_for("heating", "Heating run") +
         place_for("sweep", "Sweep") + place_for("care", "Cautions for this design") +
         place_for("cautions", "All cautions") + "</div>\n";
}

}  // namespace

LivePage live_page(const std::string& file_name, const std::string& text) {
  const std::string style = fmt::format("\n{}{}", report_style(), live_style());
  const std::string script =
      fmt::format("\n{}{}{}", live_pull_script(), live_sweep_script(), live_script());
  LivePage page;
  page.policy = fmt::format(
      "default-src 'none'; img-src data:; style-src '{}'; script-src '{}'; connect-src 'self'; "
      "base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
      policy_hash(style), policy_hash(script));
  page.html = fmt::format(
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
      "<meta name=\"color-scheme\" content=\"light dark\"/>\n"
      "<title>{0} - live</title>\n<style>{1}</style>\n</head>\n<body class=\"at-work\">\n"
      "<a class=\"skip\" href=\"#verdict\">Skip to the verdict</a>\n"
      "<header>\n<div>\n<p class=\"kind\">Induction heater, calculated while you "
      "write</p>\n<h1>{0}</h1>\n</div>\n</header>\n<main>\n{2}{3}</main>\n<footer>\n<p>{4}</p>\n"
      "<p>{5}</p>\n</footer>\n<script>{6}</script>\n</body>\n</html>\n",
      escaped(file_name), style, case_side(text), answer_side(), shown_sentence(voltage_rule()),
      shown_sentence(standing_line()), script);
  return page;
}

}  // namespace cw::cases
