#include "cases/sweep/sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "materials/number.hpp"

namespace cw::cases {

namespace {

DesignLine line_of(const RankedDesign& design, const std::string& against) {
  DesignLine line;
  for (const Change& change : design.row.changes) line.values.push_back(shortened(change.value));
  line.value = design.value;
  if (!against.empty()) line.against = figure_of(design.figures, against);
  line.work = figure_of(design.figures, "power.workpiece_W");
  line.efficiency = figure_of(design.figures, "efficiency");
  if (design.nearest) {
    line.fraction = design.nearest->fraction;
    line.part = design.nearest->part;
  }
  line.shortfall = design.shortfall;
  line.broken = design.broken;
  line.limits = design.limits;
  return line;
}

/// The values of a key, rising: those of the plan, or the random ones.
std::vector<std::string> axis_values(const SweepAxis& axis, const DesignSheet& sheet,
                                     std::size_t k) {
  if (!axis.values.empty()) {
    std::vector<std::string> values;
    for (const std::string& value : axis.values) values.push_back(shortened(value));
    return values;
  }
  std::set<std::string> seen;
  for (const auto* lines : {&sheet.best, &sheet.breaking})
    for (const DesignLine& line : *lines) seen.insert(line.values[k]);
  std::vector<std::string> values(seen.begin(), seen.end());
  std::sort(values.begin(), values.end(), [](const std::string& a, const std::string& b) {
    return read_leading_number(a).value < read_leading_number(b).value;
  });
  return values;
}

}  // namespace

std::string shortened(const std::string& value) {
  const LeadingNumber number = read_leading_number(value);
  if (!number.complaint.empty()) return value;
  const std::string figure = fmt::format("{:.5g}", number.value);
  return number.rest.empty() ? figure : fmt::format("{} {}", figure, number.rest);
}

DesignSheet sheet_of(const Case& subject, const Ranking& ranking) {
  const Sweep& sweep = *subject.sweep;
  DesignSheet sheet;
  sheet.title = subject.title;
  sheet.rank = ranking.key;
  sheet.largest = ranking.largest;
  sheet.against_largest = sweep.against.starts_with('-');
  sheet.against = sweep.against.substr(sheet.against_largest ? 1 : 0);
  for (const RankedDesign& design : ranking.best)
    sheet.best.push_back(line_of(design, sheet.against));
  for (const RankedDesign& design : ranking.breaking)
    sheet.breaking.push_back(line_of(design, sheet.against));
  for (const SweepAxis& axis : sweep.vary) {
    sheet.axes.push_back(axis_values(axis, sheet, sheet.keys.size()));
    sheet.keys.push_back(axis.key);
  }
  sheet.unranked = ranking.unranked.size();
  for (const DesignRow& row : ranking.unsolved) {
    const DesignStatus status = row.outcome.status;
    sheet.invalid += status == DesignStatus::invalid ? 1 : 0;
    sheet.failed += status == DesignStatus::failed ? 1 : 0;
    sheet.crashed += status == DesignStatus::crashed ? 1 : 0;
    sheet.set_aside += status == DesignStatus::set_aside ? 1 : 0;
    if (status != DesignStatus::set_aside && sheet.first_reason.empty())
      sheet.first_reason = spoken(row.changes) + ": " + row.outcome.reason;
  }
  sheet.planned = ranking.best.size() + ranking.breaking.size() + ranking.unranked.size() +
                  ranking.unsolved.size();
  return sheet;
}

}  // namespace cw::cases
