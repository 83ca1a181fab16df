#include "postproc/report/sweep_page.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "materials/number.hpp"
#include "postproc/report/own_drawing.hpp"
#include "postproc/report/page_frame.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/read_bytes.hpp"
#include "postproc/result/read_result.hpp"
#include "postproc/result/result_directory.hpp"

namespace cw {

namespace {

/// A drawing that the script replaces by an interactive one; in print and without scripts it stays.
std::string plane(const char* id, const std::string& title, const std::string& svg,
                  const std::string& caption) {
  return fmt::format(
      "<figure class=\"plane\" id=\"{0}\">\n<h3>{1}</h3>\n<p class=\"choose\" hidden=\"\"></p>\n"
      "<div class=\"live\" hidden=\"\" tabindex=\"0\" role=\"img\" aria-label=\"{1}\"></div>\n"
      "<div class=\"still scroll\" role=\"region\" aria-label=\"{1}\" tabindex=\"0\">{2}</div>\n"
      "<p class=\"reading\" aria-live=\"polite\"></p>\n<figcaption>{3}</figcaption>\n</figure>\n",
      id, title, inlined_drawing(svg, title), caption);
}

PageSection map_section(const SweepDrawings& drawings) {
  if (drawings.map.empty()) return {};
  return {"map", "Map",
          plane("design-map", "Two keys against each other", drawings.map,
                "Each field is one design; the other keys are as in the best design. The heavy "
                "line separates designs that keep every limit from those that exceed one (marked "
                "!). White fields were not solved. All digits: <code>tables/designs.csv</code>")};
}

PageSection pareto_section(const SweepDrawings& drawings) {
  if (drawings.pareto.empty()) return {};
  return {"trade", "One figure against the other",
          plane("design-pareto", "One figure against the other", drawings.pareto,
                "Each dot is one design. On the joined dots neither figure can improve without "
                "worsening the other; crosses exceed a limit. All digits: "
                "<code>tables/designs.csv</code>")};
}

PageSection sensitivity_section(const SweepDrawings& drawings) {
  if (drawings.sensitivity.empty()) return {};
  return {"sensitivity", "Effect of each key",
          fmt::format("<figure>\n<div class=\"scroll\" role=\"region\" aria-label=\"Drawing\" "
                      "tabindex=\"0\">{}</div>\n"
                      "<figcaption>One key at a time over the values tried, the others as in the "
                      "best design (vertical line). The longer the bar, the more the key matters; "
                      "! exceeds a limit.</figcaption>\n</figure>\n",
                      inlined_drawing(drawings.sensitivity, "Effect of each key"))};
}

PageSection made_section(const DesignsFile& designs) {
  const std::vector<TableRow> rows = {
      {"Program", {"coilwright " + escaped(designs.version)}},
      {"Method", {escaped(designs.method)}},
      {"Accuracy", {escaped(designs.accuracy)}},
      {"Case file, SHA-256", {fmt::format("<code>{}</code>", escaped(designs.case_sha256))}}};
  return {"making", "How it was computed",
          "<p>Every design was solved like a case of its own. The sweep reuses meshes with moved "
          "rings, so its figures may differ slightly from those of a single run. Run the design "
          "you choose with <code>coilwright run</code> before you bend copper: its page has the "
          "drawing, the parts to buy and the first readings.</p>\n" +
              markup({"Program and case", {"Quantity", "Value"}, {{"", rows}}})};
}

/// The text of the file; empty if there is none.
std::string drawing(const std::filesystem::path& path) {
  if (!std::filesystem::exists(path)) return "";
  std::string text = read_bytes(path).value_or("");
  if (const std::string foreign = foreign_in_drawing(text); !foreign.empty())
    throw ResultFileError(foreign_drawing(path, foreign, "run the same `coilwright sweep` again"));
  return text;
}

}  // namespace

ShownDesigns shown_designs(const DesignSheet& sheet) {
  ShownDesigns shown{std::min(sheet.best.size(), most_designs_shown), 0};
  shown.breaking = std::min(sheet.breaking.size(), most_designs_shown - shown.best);
  return shown;
}

std::string shown_value(const std::string& value) {
  const LeadingNumber number = read_leading_number(value);
  if (number.complaint.empty() && number.rest == "mm")
    return fmt::format("<data class=\"m\" value=\"{:.7g}\">{}\u00a0mm</data>", 1e-3 * number.value,
                       escaped(number.digits));
  std::string text = escaped(value);
  if (number.complaint.empty() && !number.rest.empty()) {
    const std::size_t gap = text.find(' ');
    if (gap != std::string::npos) text.replace(gap, 1, "\u00a0");
  }
  return text;
}

std::string shown_design(const DesignSheet& sheet, const DesignLine& line) {
  std::string text;
  for (std::size_t k = 0; k < sheet.keys.size(); ++k)
    text += fmt::format("{}{}\u00a0{}", k > 0 ? ", " : "", escaped(short_label(sheet.keys[k])),
                        shown_value(line.values[k]));
  return text;
}

std::string sweep_page(const DesignsFile& designs, const SweepDrawings& drawings) {
  std::vector<PageSection> sections = {
      sweep_verdict_section(designs), map_section(drawings),
      pareto_section(drawings),       sensitivity_section(drawings),
      sweep_table_section(designs),   sweep_compare_section(designs),
      sweep_refused_section(designs), cautions_section(designs.leading),
      made_section(designs)};
  sections.back().body += sweep_data(designs);
  return framed_page({"Induction heater, designs tried", designs.sheet.title, designs.version,
                      designs.case_sha256},
                     sections);
}

bool is_sweep_directory(const std::filesystem::path& directory) {
  return std::filesystem::exists(directory / "designs.json") &&
         !std::filesystem::exists(directory / "result.json");
}

void write_sweep_report(const std::filesystem::path& directory) {
  const std::filesystem::path pictures = directory / "pictures";
  const SweepDrawings drawings{drawing(pictures / "map.svg"), drawing(pictures / "pareto.svg"),
                               drawing(pictures / "sensitivity.svg")};
  replace_file(directory / "report.html",
               sweep_page(read_designs(directory / "designs.json"), drawings));
}

}  // namespace cw
