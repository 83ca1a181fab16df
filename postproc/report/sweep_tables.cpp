#include <fmt/core.h>
#include <fmt/ranges.h>

#include <cmath>

#include "materials/figures.hpp"
#include "materials/number.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/sweep_figures.hpp"
#include "postproc/report/sweep_page.hpp"

namespace cw {

namespace {

struct SweepColumn {
  std::string name;
  std::function<std::string(const DesignLine&)> text;  ///< markup
  std::function<std::string(const DesignLine&)> sort;  ///< sort key: a number or words
};

std::string sortable(const std::optional<double>& value) {
  return value ? fmt::format("{:.7g}", *value) : "";
}

SweepColumn number_column(const std::string& name, const SweepFigure& figure,
                          std::optional<double> DesignLine::*member) {
  return {name,
          [=](const DesignLine& line) {
            const auto& value = line.*member;
            return value ? shown_figure(figure, figure.scale * *value + figure.offset)
                         : std::string("\u2013");
          },
          [=](const DesignLine& line) { return sortable(line.*member); }};
}

std::vector<SweepColumn> key_columns(const DesignSheet& sheet) {
  std::vector<SweepColumn> columns;
  for (std::size_t k = 0; k < sheet.keys.size(); ++k)
    columns.push_back({capitalised(short_label(sheet.keys[k])),
                       [k](const DesignLine& line) { return shown_value(line.values[k]); },
                       [k](const DesignLine& line) {
                         const LeadingNumber number = read_leading_number(line.values[k]);
                         return number.complaint.empty() ? fmt::format("{:.7g}", number.value)
                                                         : escaped(line.values[k]);
                       }});
  return columns;
}

std::vector<SweepColumn> columns_of(const DesignSheet& sheet) {
  std::vector<SweepColumn> columns = key_columns(sheet);
  const auto named = [](const std::string& key) { return capitalised(sweep_figure(key).name); };
  if (!sheet.rank.empty())
    columns.push_back(
        number_column(named(sheet.rank), sweep_figure(sheet.rank), &DesignLine::value));
  if (!sheet.against.empty())
    columns.push_back(
        number_column(named(sheet.against), sweep_figure(sheet.against), &DesignLine::against));
  if (sheet.rank.find("power.workpiece_W") == std::string::npos)
    columns.push_back(
        number_column("Power in the workpiece", {"", "", "W", 1.0, 0.0}, &DesignLine::work));
  if (!sheet.rank.ends_with("efficiency"))
    columns.push_back(
        number_column("Efficiency", {"", "", "%", 100.0, 0.0}, &DesignLine::efficiency));
  columns.push_back({"Nearest limit",
                     [](const DesignLine& line) {
                       return line.fraction ? fmt::format("{}\u00a0{}", escaped(line.part),
                                                          shown_percent(*line.fraction))
                                            : std::string("no rating given");
                     },
                     [](const DesignLine& line) { return sortable(line.fraction); }});
  columns.push_back({"Verdict",
                     [](const DesignLine& line) {
                       if (line.broken.empty()) return std::string("keeps all");
                       return fmt::format("<strong class=\"stop\">exceeds</strong> {}",
                                          escaped(fmt::format("{}", fmt::join(line.broken, "; "))));
                     },
                     [](const DesignLine& line) { return std::to_string(line.broken.size()); }});
  return columns;
}

/// Difference of b from a: as a share of a; for shares and temperatures the absolute difference.
/// "the same" if both are shown alike.
std::string difference_of(const SweepFigure& figure, double a, double b) {
  if (shown_figure(figure, a) == shown_figure(figure, b)) return "the same";
  const auto signed_text = [](double value, const char* unit) {
    return fmt::format("{}{}\u00a0{}", value > 0 ? "+" : "\u2212", cw::figure(std::abs(value)),
                       unit);
  };
  if (figure.unit == "%") return signed_text(b - a, "points");
  if (figure.unit == "degC") return signed_text(b - a, "K");
  return a == 0.0 ? "" : signed_text(100.0 * (b / a - 1.0), "%");
}

/// Two buttons that put a design into the comparison; they need the script.
std::string picks(std::size_t row, const std::string& place) {
  std::string text;
  for (const auto& [name, word] : {std::pair{"a", "first"}, {"b", "second"}})
    text += fmt::format(
        "<td class=\"pick\"><input type=\"radio\" name=\"pick-{}\" value=\"{}\" "
        "aria-label=\"design {} as the {} to compare\" disabled=\"\"/></td>",
        name, row, place, word);
  return text;
}

std::string row_of(const DesignLine& line, const std::vector<SweepColumn>& columns, std::size_t row,
                   const std::string& place) {
  std::string text = fmt::format(
      "<tr data-row=\"{0}\" data-kept=\"{1}\"><th scope=\"row\" data-sort=\"{0}\">{2}</th>", row,
      line.broken.empty() ? 1 : 0, place);
  for (const SweepColumn& column : columns)
    text += fmt::format("<td data-sort=\"{}\">{}</td>", column.sort(line), column.text(line));
  return text + picks(row, place) + "</tr>\n";
}

/// A word of a command, in single quotes if the shell would read it in another way.
std::string shell_word(const std::string& word) {
  constexpr std::string_view plain =
      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789._=/+-";
  if (word.find_first_not_of(plain) == std::string::npos) return word;
  std::string quoted = "'";
  for (const char c : word) quoted += c == '\'' ? "'\\''" : std::string(1, c);
  return quoted + "'";
}

std::string filters() {
  return "<form class=\"filters\" hidden=\"\" aria-label=\"Which designs to show\">\n"
         "<label>Show rows with <input type=\"search\" name=\"words\" "
         "autocomplete=\"off\"/></label>\n"
         "<label><input type=\"checkbox\" name=\"kept\"/> only those that keep every "
         "limit</label>\n"
         "<output aria-live=\"polite\"></output>\n</form>\n";
}

}  // namespace

std::string live_command(const DesignSheet& sheet, const DesignLine& line) {
  std::string command = "coilwright live CASE.toml";
  for (std::size_t k = 0; k < sheet.keys.size(); ++k)
    command += " --set " + shell_word(sheet.keys[k] + "=" + line.values[k]);
  return command;
}

PageSection sweep_table_section(const DesignsFile& designs) {
  const DesignSheet& sheet = designs.sheet;
  const ShownDesigns shown = shown_designs(sheet);
  const std::size_t count = shown.best + shown.breaking;
  if (count == 0) return {};
  const std::vector<SweepColumn> columns = columns_of(sheet);
  std::string text = filters();
  text +=
      "<div class=\"scroll\" role=\"region\" aria-label=\"Designs\" tabindex=\"0\">\n"
      "<table class=\"designs\">\n<caption>Designs, best first; those that exceed a limit are "
      "below the others</caption>\n<thead><tr><th scope=\"col\">Place</th>";
  for (const SweepColumn& column : columns)
    text += fmt::format("<th scope=\"col\">{}</th>", escaped(column.name));
  text +=
      "<th scope=\"col\" class=\"pick\">A</th><th scope=\"col\" "
      "class=\"pick\">B</th></tr></thead>\n<tbody>\n";
  for (std::size_t k = 0; k < shown.best; ++k)
    text += row_of(sheet.best[k], columns, k, std::to_string(k + 1));
  for (std::size_t k = 0; k < shown.breaking; ++k)
    text += row_of(sheet.breaking[k], columns, shown.best + k,
                   std::to_string(sheet.best.size() + k + 1));
  text += "</tbody>\n</table>\n</div>\n";
  const std::size_t all = sheet.best.size() + sheet.breaking.size();
  text += fmt::format(
      "<p class=\"quiet\">{}All of them with every figure: <code>tables/designs.csv</code></p>\n",
      count < all ? fmt::format("{} of {} shown. ", count, all) : "");
  return {"designs", "Designs ranked", text};
}

PageSection sweep_compare_section(const DesignsFile& designs) {
  const DesignSheet& sheet = designs.sheet;
  std::vector<std::pair<const DesignLine*, const Figures*>> pair;
  for (std::size_t k = 0; k < sheet.best.size() && pair.size() < 2; ++k)
    pair.emplace_back(&sheet.best[k], &designs.best[k]);
  for (std::size_t k = 0; k < sheet.breaking.size() && pair.size() < 2; ++k)
    pair.emplace_back(&sheet.breaking[k], &designs.breaking[k]);
  if (pair.size() < 2) return {};
  PageTable table{"Two designs side by side", {"Quantity", "A", "B", "B against A"}, {{}, {}}};
  for (std::size_t k = 0; k < sheet.keys.size(); ++k)
    table.groups[0].rows.push_back(
        {escaped(capitalised(short_label(sheet.keys[k]))),
         {shown_value(pair[0].first->values[k]), shown_value(pair[1].first->values[k]), ""}});
  for (const SweepFigure& figure : sweep_figures(designs)) {
    const auto a = figure.of(*pair[0].second), b = figure.of(*pair[1].second);
    if (!a || !b) continue;
    table.groups[1].rows.push_back(
        {escaped(capitalised(figure.name)),
         {shown_figure(figure, *a), shown_figure(figure, *b), difference_of(figure, *a, *b)}});
  }
  std::string commands =
      "<p>To change a design further, each change solved at once (CASE.toml: the file of the "
      "case):</p>\n";
  for (std::size_t k = 0; k < 2; ++k)
    commands += fmt::format("<p class=\"command\">{}: <code>{}</code></p>\n", k == 0 ? "A" : "B",
                            escaped(live_command(sheet, *pair[k].first)));
  return {"compare", "Two designs side by side",
          "<form class=\"pair-choice\" hidden=\"\" aria-label=\"Designs to compare\">\n"
          "<label>A <select name=\"a\"></select></label>\n"
          "<label>B <select name=\"b\"></select></label>\n</form>\n" +
              markup(table) + commands};
}

PageSection sweep_refused_section(const DesignsFile& designs) {
  if (designs.refused.empty()) return {};
  constexpr std::size_t most = 50;
  PageTable table{"Designs that could not be ranked", {"Design", "Why"}, {{}}};
  for (std::size_t k = 0; k < std::min(most, designs.refused.size()); ++k) {
    const RefusedDesign& row = designs.refused[k];
    DesignLine line;
    line.values = row.values;
    const char* word = row.status == "invalid"     ? "cannot be built"
                       : row.status == "crashed"   ? "lost; the next run solves it again"
                       : row.status == "set aside" ? "set aside"
                                                   : "could not be solved";
    table.groups[0].rows.push_back(
        {shown_design(designs.sheet, line), {fmt::format("{}: {}", word, escaped(row.reason))}});
  }
  return {"refused", "Not in the ranking",
          markup(table) + (designs.refused.size() > most
                               ? fmt::format("<p class=\"quiet\">{} of {} shown.</p>\n", most,
                                             designs.refused.size())
                               : "")};
}

}  // namespace cw
