#include "postproc/report/report_markup.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <regex>
#include <utility>

#include "postproc/text/figures.hpp"

namespace cw {

namespace {

constexpr std::string_view no_break_space = "\u00a0";

std::string with_unit(const std::string& number, std::string_view unit) {
  return number + std::string(no_break_space) + std::string(unit);
}

std::string carrying(const char* unit, double value, const std::string& text) {
  return fmt::format("<data class=\"{}\" value=\"{:.7g}\">{}</data>", unit, value, text);
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '&') {
      out += "&amp;";
    } else if (c == '<') {
      out += "&lt;";
    } else if (c == '>') {
      out += "&gt;";
    } else if (c == '"') {
      out += "&quot;";
    } else if (c == '\'') {
      out += "&#39;";
    } else if ((c >= 0 && c < ' ' && c != '\t' && c != '\n') || c == '\x7f') {
      out += "\uFFFD";
    } else {
      out += c;
    }
  }
  return out;
}

std::string shown(double value, std::string_view unit) {
  const std::string text = figure(value, unit);
  const std::size_t gap = text.find(' ');
  std::string spelled = text.substr(gap + 1);
  if (spelled.starts_with('u')) spelled.replace(0, 1, "\u00b5");
  if (spelled.ends_with("ohm")) spelled.replace(spelled.size() - 3, 3, "\u03a9");
  return with_unit(text.substr(0, gap), escaped(spelled));
}

std::string shown_percent(double share) {
  return with_unit(figure(100.0 * share), "%");
}

std::string shown_mm(double metres) {
  return carrying("m", metres, with_unit(figure(1e3 * metres), "mm"));
}

std::string drawn_mm(double metres) {
  return carrying("m", metres, with_unit(millimetres(metres), "mm"));
}

std::string shown_celsius(const Temperature& temperature) {
  return carrying("K", temperature.kelvin, with_unit(figure(temperature.in_celsius()), "\u00b0C"));
}

std::string shown_sentence(std::string_view text) {
  static const std::regex sized(
      "(-?[0-9]+(?:\\.[0-9]+)?) (degC|mm|u[A-Za-z]|mohm)(?![A-Za-z/0-9])");
  std::string out;
  auto from = text.begin();
  for (std::cregex_iterator it(text.begin(), text.end(), sized), end; it != end; ++it) {
    const std::cmatch& found = *it;
    out += escaped({from, found[0].first});
    from = found[0].second;
    const double value = std::stod(found[1]);
    if (found[2] == "degC")
      out += carrying("K", value + zero_celsius, with_unit(found[1], "\u00b0C"));
    else if (found[2] == "mm")
      out += carrying("m", 1e-3 * value, with_unit(found[1], "mm"));
    else
      out += with_unit(found[1], found[2] == "mohm"
                                     ? "m\u03a9"
                                     : fmt::format("\u00b5{}", found[2].str().substr(1)));
  }
  out += escaped({from, text.end()});
  static const std::regex command("`([^`<]*)`");
  return std::regex_replace(out, command, "<code>$1</code>");
}

std::string plain_state(const std::string& name) {
  if (name == "empty") return "empty coil";
  if (name == "past_curie") return "past Curie";
  std::string words = name;
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

std::string state_words(const std::string& name) {
  return escaped(plain_state(name));
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

const StateResult* leading_state(const Result& result) {
  const auto most = std::max_element(
      result.states.begin(), result.states.end(),
      [](const StateResult& a, const StateResult& b) { return a.power.total < b.power.total; });
  return most == result.states.end() ? nullptr : &*most;
}

std::string markup(const PageTable& table) {
  std::string text = fmt::format(
      "<div class=\"scroll\" role=\"region\" aria-label=\"{0}\" tabindex=\"0\">\n<table>\n"
      "<caption>{0}</caption>\n",
      table.caption);
  if (!table.head.empty()) {
    text += "<thead><tr>";
    for (const auto& name : table.head) text += fmt::format("<th scope=\"col\">{}</th>", name);
    text += "</tr></thead>\n";
  }
  for (const auto& group : table.groups) {
    if (group.rows.empty()) continue;
    text += "<tbody>\n";
    if (!group.name.empty()) {
      text +=
          fmt::format("<tr class=\"group\"><th scope=\"rowgroup\" colspan=\"{}\">{}</th></tr>\n",
                      group.rows.front().cells.size() + 1, group.name);
    }
    for (const auto& row : group.rows) {
      text += fmt::format("<tr><th scope=\"row\">{}</th>", row.name);
      for (const auto& cell : row.cells) text += fmt::format("<td>{}</td>", cell);
      text += "</tr>\n";
    }
    text += "</tbody>\n";
  }
  return text + "</table>\n</div>\n";
}

std::string state_table(const std::string& caption, const std::vector<StateResult>& states,
                        const std::vector<StateGroup>& groups) {
  PageTable table{caption, {"Quantity"}, {}};
  for (const auto& state : states) table.head.push_back(capitalised(state_words(state.name)));
  for (const auto& group : groups) {
    table.groups.push_back({group.name, {}});
    for (const auto& row : group.rows) {
      TableRow filled{row.name, {}};
      bool any = false;
      for (const auto& state : states) {
        const std::string value = row.value(state);
        any = any || !value.empty();
        filled.cells.push_back(value.empty() ? "\u2013" : value);
      }
      if (any) table.groups.back().rows.push_back(std::move(filled));
    }
  }
  return markup(table);
}

}  // namespace cw
