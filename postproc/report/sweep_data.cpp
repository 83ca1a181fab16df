#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "postproc/picture/colour_map.hpp"
#include "postproc/picture/design_charts.hpp"
#include "postproc/report/report_charts.hpp"
#include "postproc/report/sweep_figures.hpp"
#include "postproc/report/sweep_page.hpp"

namespace cw {

namespace {

using OrderedJson = nlohmann::ordered_json;

/// Rounded to five figures, since a page shows three.
OrderedJson short_number(const std::optional<double>& value) {
  if (!value || !std::isfinite(*value)) return nullptr;
  return OrderedJson::parse(fmt::format("{:.5g}", *value));
}

/// `place`: 1 for the best.
OrderedJson json_of(const DesignSheet& sheet, const DesignLine& line,
                    const std::pair<const Figures&, const std::vector<SweepFigure>&>& numbered,
                    std::size_t place) {
  const auto& [figures, shown] = numbered;
  OrderedJson numbers = OrderedJson::array();
  for (const SweepFigure& figure : shown) numbers.push_back(short_number(figure.of(figures)));
  OrderedJson json = {{"values", line.values},
                      {"place", place},
                      {"kept", line.broken.empty()},
                      {"figures", numbers},
                      {"command", live_command(sheet, line)}};
  if (!line.broken.empty()) json["broken"] = line.broken.front();
  return json;
}

OrderedJson page_colours() {
  constexpr int steps = 24;
  OrderedJson list = OrderedJson::array();
  for (int k = 0; k <= steps; ++k) {
    const Colour c = field_colour(0.04 + 0.92 * k / steps);
    list.push_back(colour_code(c));
  }
  return list;
}

}  // namespace

std::string sweep_data(const DesignsFile& designs) {
  const DesignSheet& sheet = designs.sheet;
  const std::vector<SweepFigure> figures = sweep_figures(designs);
  const ShownDesigns shown = shown_designs(sheet);
  OrderedJson json;
  for (const std::string& key : sheet.keys) json["keys"].push_back(short_label(key));
  json["axes"] = sheet.axes;
  for (const SweepFigure& figure : figures)
    json["figures"].push_back({{"name", figure.name}, {"unit", figure.unit}});
  json["rank"] = !sheet.rank.empty();
  json["against"] = !sheet.against.empty();
  json["colours"] = page_colours();
  json["front"] = OrderedJson::array();
  if (!sheet.against.empty())
    for (const std::size_t place : pareto_front(sheet))
      if (place < shown.best) json["front"].push_back(place);
  json["designs"] = OrderedJson::array();
  for (std::size_t k = 0; k < shown.best; ++k)
    json["designs"].push_back(json_of(sheet, sheet.best[k], {designs.best[k], figures}, k + 1));
  for (std::size_t k = 0; k < shown.breaking; ++k)
    json["designs"].push_back(json_of(sheet, sheet.breaking[k], {designs.breaking[k], figures},
                                      sheet.best.size() + k + 1));
  const std::string data =
      script_data(json.dump(-1, ' ', false, OrderedJson::error_handler_t::replace));
  return fmt::format("<div id=\"sweep\" hidden=\"\">{}</div>\n", data);
}

}  // namespace cw
