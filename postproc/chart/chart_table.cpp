#include <fmt/core.h>

#include <algorithm>

#include "postproc/chart/chart.hpp"
#include "postproc/result/write_tables.hpp"

namespace cw {

namespace {

std::string line_of(const std::vector<std::string>& fields) {
  std::string line;
  for (const auto& field : fields)
    line += fmt::format("{}{}", line.empty() ? "" : ",", table_field(field));
  return line + "\n";
}

std::string of_categories(const Chart& chart) {
  const ChartAxis& axis = chart.kind == ChartKind::bars ? chart.x : chart.y;
  std::vector<std::string> head{"of"};
  for (const auto& s : chart.series)
    head.push_back(chart.series.size() == 1 ? axis.title
                                            : fmt::format("{} [{}]", s.name, axis.unit));
  std::string table = line_of(head);
  for (std::size_t i = 0; i < chart.categories.size(); ++i) {
    std::vector<std::string> fields{chart.categories[i]};
    for (const auto& s : chart.series) fields.push_back(fmt::format("{}", s.y[i]));
    table += line_of(fields);
  }
  return table;
}

/// For lines that all have the same x.
std::string side_by_side(const Chart& chart) {
  std::vector<std::string> head{chart.x.title};
  for (const auto& s : chart.series) head.push_back(fmt::format("{} [{}]", s.name, chart.y.unit));
  std::string table = line_of(head);
  for (std::size_t i = 0; i < chart.series.front().x.size(); ++i) {
    std::vector<std::string> fields{fmt::format("{}", chart.series.front().x[i])};
    for (const auto& s : chart.series) fields.push_back(fmt::format("{}", s.y[i]));
    table += line_of(fields);
  }
  return table;
}

std::string one_after_another(const Chart& chart) {
  std::string table = line_of({"line", chart.x.title, chart.y.title});
  for (const auto& s : chart.series)
    for (std::size_t i = 0; i < s.x.size(); ++i)
      table += line_of({s.name, fmt::format("{}", s.x[i]), fmt::format("{}", s.y[i])});
  return table;
}

}  // namespace

std::string chart_table(const Chart& chart) {
  if (chart.kind != ChartKind::lines) return of_categories(chart);
  const bool same = !chart.series.empty() &&
                    std::all_of(chart.series.begin(), chart.series.end(),
                                [&](const auto& s) { return s.x == chart.series.front().x; });
  return same ? side_by_side(chart) : one_after_another(chart);
}

}  // namespace cw
