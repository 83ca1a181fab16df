#include "postproc/report/metals_page.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "postproc/picture/canvas.hpp"
#include "postproc/picture/metals_chart.hpp"
#include "postproc/report/page_frame.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/text/metals_reasons.hpp"
#include "postproc/text/metals_table.hpp"

namespace cw {

namespace {

std::string at_frequency(const MetalComparison& all) {
  return shown(all.frequencies[all.at_case].hertz, "Hz");
}

/// The case's own metal and its rank among the others.
std::string lead_of(const MetalComparison& all) {
  const auto own = std::ranges::find(all.metals, all.own, &MetalCurve::name);
  if (own == all.metals.end()) return "";
  return fmt::format(
      "<p class=\"lead\">{} takes {} of the power at {}: rank {} of {} metals.</p>\n",
      escaped(capitalised(own->name)), shown_percent(at_case(all, *own).efficiency()),
      at_frequency(all), own - all.metals.begin() + 1, all.metals.size());
}

PageSection answer_section(const MetalComparison& all) {
  std::string reasons;
  for (const MetalCurve* metal : notable_metals(all))
    reasons += fmt::format("<li>{}</li>\n", shown_sentence(capitalised(metal_reason(all, *metal))));
  return {
      "answer", "Which metals heat in this coil",
      fmt::format("{}<p>Every metal of the library in the place of the workpiece, at {}, with "
                  "{} rms through the coil.</p>\n<ul>\n{}</ul>\n",
                  lead_of(all), shown_celsius(all.temperature), shown(all.current, "A"), reasons)};
}

PageSection chart_section(const MetalComparison& all) {
  return {"chart", "Over frequency",
          fmt::format(
              "<figure>\n<div class=\"scroll\" role=\"region\" aria-label=\"Drawing\" "
              "tabindex=\"0\">{}</div>\n<figcaption>Share of the power that enters the workpiece. "
              "A metal heats well where its curve is high. The vertical line is the frequency of "
              "the case. All digits: <code>tables/metals.csv</code></figcaption>\n</figure>\n",
              inlined_drawing(svg_of(metals_chart(all)), "Metals over frequency"))};
}

TableRow row_of(const MetalComparison& all, const MetalCurve& metal) {
  const MetalPoint& p = at_case(all, metal);
  const double squared = all.current * all.current;
  return {
      escaped(metal.name) + (metal.name == all.own ? " (of the case)" : "") +
          (metal.beyond_data ? " *" : ""),
      {shown_percent(p.efficiency()), shown(squared * p.work, "W"), shown(squared * p.coil, "W"),
       shown_mm(p.skin_depth), figure(all.thickness / p.skin_depth), figure(p.permeability),
       figure(metal.surface_resistance(p) / p.coil_surface)}};
}

PageSection table_section(const MetalComparison& all) {
  PageTable table{"Metals at " + at_frequency(all),
                  {"Metal", "Share in the metal", "Power into it", "Loss in the coil", "Skin depth",
                   escaped(capitalised(all.size_name)) + " over skin depth",
                   "Relative permeability at the surface", "Surface resistance, times the coil's"},
                  {{}}};
  bool beyond = false;
  for (const MetalCurve& metal : all.metals) {
    table.groups[0].rows.push_back(row_of(all, metal));
    beyond = beyond || metal.beyond_data;
  }
  return {"table", "All of them",
          markup(table) + (beyond ? "<p class=\"quiet\">* Resistivity is not known at this "
                                    "temperature: the nearest value was used.</p>\n"
                                  : "")};
}

PageSection reasons_section(const MetalComparison& all) {
  std::string reasons;
  for (const MetalCurve& metal : all.metals)
    reasons += fmt::format("<li>{}</li>\n", shown_sentence(capitalised(metal_reason(all, metal))));
  return {"reasons", "Why each metal takes its power",
          fmt::format("<p>At {}:</p>\n<ul>\n{}</ul>\n", at_frequency(all), reasons), Place::open,
          Paper::asked_for};
}

PageSection notes_section(const MetalComparison& all, const Result& result) {
  std::string lines;
  for (const std::string& warning : metals_warnings(all, result))
    lines += fmt::format("<li>{}</li>\n", shown_sentence(warning));
  return {"warnings", "Where the model is less accurate",
          lines.empty() ? "" : fmt::format("<ul>\n{}</ul>\n", lines)};
}

PageSection made_section_of(const MetalComparison& all, const Result& result) {
  const std::vector<TableRow> rows = {
      {"Program", {"coilwright " + escaped(result.build.version)}},
      {"Case file, SHA-256", {fmt::format("<code>{}</code>", escaped(result.case_sha256))}}};
  return {"making", "How it was computed",
          fmt::format("<p>Each metal was solved at each frequency as a case of its own. {}</p>\n{}",
                      shown_sentence(metals_errors(all)),
                      markup({"Program and case", {"Quantity", "Value"}, {{"", rows}}}))};
}

}  // namespace

std::string metals_page(const MetalComparison& all, const Result& result) {
  return framed_page(
      {"Induction coil, metals compared", all.title, result.build.version, result.case_sha256},
      {answer_section(all), chart_section(all), table_section(all), reasons_section(all),
       notes_section(all, result), cautions_section(result), made_section_of(all, result)});
}

}  // namespace cw
