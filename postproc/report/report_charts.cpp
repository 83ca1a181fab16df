#include "postproc/report/report_charts.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cassert>
#include <nlohmann/json.hpp>

#include "materials/figures.hpp"
#include "postproc/picture/colour_map.hpp"
#include "postproc/report/report_markup.hpp"

namespace cw {

namespace {

using OrderedJson = nlohmann::ordered_json;

const char* word(ChartKind kind) {
  switch (kind) {
    case ChartKind::lines:
      return "lines";
    case ChartKind::bars:
      return "bars";
    case ChartKind::stacked:
      break;
  }
  return "stacked";
}

OrderedJson json_of(const ChartAxis& axis) {
  return {{"title", axis.title},
          {"unit", axis.unit},
          {"logarithmic", axis.logarithmic},
          {"fromZero", axis.from_zero},
          {"whole", axis.whole}};
}

OrderedJson json_of(const ChartSeries& series) {
  OrderedJson json = {{"name", series.name},
                      {"x", series.x},
                      {"y", series.y},
                      {"colour", colour_code(series.colour)}};
  if (series.dash) json["dash"] = *series.dash;
  if (!series.remarks.empty()) json["remarks"] = series.remarks;
  if (!series.own_colours.empty()) {
    json["own"] = OrderedJson::array();
    for (const Colour& colour : series.own_colours) json["own"].push_back(colour_code(colour));
  }
  return json;
}

OrderedJson json_of(const Chart& chart) {
  OrderedJson json = {{"id", chart.id},
                      {"kind", word(chart.kind)},
                      {"x", json_of(chart.x)},
                      {"y", json_of(chart.y)},
                      {"categories", chart.categories},
                      {"series", OrderedJson::array()},
                      {"marks", OrderedJson::array()}};
  for (const auto& series : chart.series) json["series"].push_back(json_of(series));
  for (const auto& mark : chart.marks)
    json["marks"].push_back({{"name", mark.name},
                             {"value", mark.value},
                             {"upright", mark.upright || chart.kind == ChartKind::bars},
                             {"limit", mark.limit}});
  return json;
}

/// A number of an axis in a table; if it can be converted to other units, it includes its own.
std::string shown_on(const ChartAxis& axis, double value) {
  if (axis.unit == "degC") return shown_celsius(Temperature::celsius(value));
  if (axis.unit == "m") return shown_distance(value);
  if (axis.unit.empty()) return figure_short(value);  // the number of a ring
  return figure(value);
}

/// The heading of a column, without the unit if the cells have it (temperatures and distances).
std::string heading_of(const std::string& name, const ChartAxis& axis) {
  if (axis.unit == "degC" || axis.unit == "m") return escaped(name);
  return fmt::format("{} [{}]", escaped(name), axis.unit == "uT" ? "\u00b5T" : escaped(axis.unit));
}

/// The title of an axis without its unit.
std::string bare_title(const ChartAxis& axis) {
  return axis.title.substr(0, axis.title.find(" ["));
}

/// The numbers as the page shows them; a long history is thinned, while its file has every line.
PageTable numbers(const Chart& chart) {
  PageTable table{fmt::format("{}, in numbers", escaped(chart.title)), {}, {{}}};
  const bool lines = chart.kind == ChartKind::lines;
  const ChartAxis& values = chart.kind == ChartKind::bars ? chart.x : chart.y;
  table.head.push_back(!lines                 ? "Of"
                       : chart.x.unit.empty() ? escaped(chart.x.title)
                                              : heading_of(bare_title(chart.x), chart.x));
  for (const auto& s : chart.series) table.head.push_back(heading_of(s.name, values));
  constexpr std::size_t most = 40;
  const std::size_t count = lines ? chart.series.front().x.size() : chart.categories.size();
  const std::size_t step = (count + most - 1) / most;
  for (std::size_t i = 0; i < count; i += std::max<std::size_t>(step, 1)) {
    TableRow row{
        lines ? shown_on(chart.x, chart.series.front().x[i]) : escaped(chart.categories[i]), {}};
    for (const auto& s : chart.series)
      row.cells.push_back(i < s.y.size() ? shown_on(values, s.y[i]) : "\u2013");
    table.groups[0].rows.push_back(std::move(row));
  }
  return table;
}

}  // namespace

std::string inlined_drawing(const std::string& svg, const std::string& label) {
  const std::size_t start = svg.find("<svg "), open = svg.find('>', start);
  assert(start != std::string::npos && open != std::string::npos);
  const std::string tag = svg.substr(start, open - start);
  const std::size_t box = tag.find("viewBox=\"");
  assert(box != std::string::npos);
  const std::string view = tag.substr(box, tag.find('"', box + 9) + 1 - box);
  return fmt::format(
      "<svg {} role=\"img\" aria-label=\"{}\" font-family=\"'DejaVu Sans', Verdana, sans-serif\"{}",
      view, escaped(label), svg.substr(open));
}

std::string script_data(const std::string& json) {
  std::string text;
  for (const char c : json) {
    if (c == '<' || c == '>' || c == '&')
      text += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
    else
      text += c;
  }
  return fmt::format("<script type=\"application/json\">{}</script>\n", text);
}

std::string chart_figure(const std::optional<Chart>& chart) {
  if (!chart) return "";
  const std::string label = fmt::format("{}. {}", chart->title, chart->note);
  return fmt::format(
      "<figure class=\"chart {}\" id=\"chart-{}\">\n<h3>{}</h3>\n"
      "<div class=\"live\" hidden=\"\"><canvas tabindex=\"0\" role=\"img\" "
      "aria-label=\"{}\"></canvas></div>\n"
      "<div class=\"still scroll\">{}</div>\n<p class=\"reading\" aria-live=\"polite\"></p>\n"
      "<figcaption>{} All digits: <code>tables/chart-{}.csv</code></figcaption>\n"
      "<details>\n<summary>The numbers</summary>\n{}</details>\n{}</figure>\n",
      word(chart->kind), chart->id, escaped(chart->title), escaped(label),
      inlined_drawing(svg_of(chart_drawing(*chart)), label), escaped(chart->note), chart->id,
      markup(numbers(*chart)),
      script_data(json_of(*chart).dump(-1, ' ', false, OrderedJson::error_handler_t::replace)));
}

}  // namespace cw
