#include "postproc/report/report_markup.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "materials/figures.hpp"

namespace cw {

namespace {

constexpr std::string_view no_break_space = "\u00a0";

std::string with_unit(const std::string& number, std::string_view unit) {
  return number + std::string(no_break_space) + std::string(unit);
}

std::string carrying(const char* unit, double value, const std::string& text) {
  return fmt::format("<data class=\"{}\" value=\"{:.7g}\">{}</data>", unit, value, text);
}

constexpr std::string_view decimal_digits = "0123456789";

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/// A number with one of the units that sentences use in ASCII: "820 degC", "9 mm", "30 uH".
struct Sized {
  std::string_view number, unit;
  std::size_t length;  ///< of number, space and unit
};

/// Such a number at the start of a text. Written out, since std::regex would recurse too deep in a
/// long text.
std::optional<Sized> sized_at(std::string_view text) {
  constexpr std::size_t longest = 30;  // longer than any of our figures
  const auto past_digits = [&](std::size_t at) {
    return std::min(text.find_first_not_of(decimal_digits, at), text.size());
  };
  const std::size_t start = text.starts_with('-') ? 1 : 0;
  std::size_t end = past_digits(start);
  if (end == start || end > longest) return std::nullopt;
  if (end < text.size() && text[end] == '.')
    if (const std::size_t more = past_digits(end + 1); more > end + 1) end = more;
  if (end > longest || end >= text.size() || text[end] != ' ') return std::nullopt;
  const std::string_view rest = text.substr(end + 1);
  std::size_t length = 0;
  for (const std::string_view unit : {"m", "K", "mm", "m/s", "degC", "mohm"})
    if (rest.starts_with(unit)) length = unit.size();
  if (length == 0 && rest.size() > 1 && rest[0] == 'u' && is_letter(rest[1])) length = 2;
  const auto goes_on = [&](char c) {
    return is_letter(c) || c == '/' || decimal_digits.find(c) != std::string_view::npos;
  };
  if (length == 0 || (rest.size() > length && goes_on(rest[length]))) return std::nullopt;
  return Sized{text.substr(0, end), rest.substr(0, length), end + 1 + length};
}

std::string markup_of(const Sized& sized) {
  const std::string number(sized.number);
  const double value = std::stod(number);
  if (sized.unit == "degC")
    return carrying("K", value + zero_celsius, with_unit(number, "\u00b0C"));
  if (sized.unit == "K") return carrying("dK", value, with_unit(number, "K"));
  if (sized.unit == "mm") return carrying("m", 1e-3 * value, with_unit(number, "mm"));
  if (sized.unit == "m") return carrying("m", value, with_unit(number, "m"));
  if (sized.unit == "m/s") return carrying("v", value, with_unit(number, "m/s"));
  if (sized.unit == "mohm") return with_unit(number, "m\u03a9");
  return with_unit(number, fmt::format("\u00b5{}", sized.unit.substr(1)));
}

/// Turns `commands` in markup into code, unless a tag is between the quotes.
std::string with_code(const std::string& text) {
  std::string out;
  std::size_t from = 0, open = 0;
  while ((open = text.find('`', from)) != std::string::npos) {
    const std::size_t close = text.find_first_of("`<", open + 1);
    out += text.substr(from, open - from);
    if (close == std::string::npos || text[close] == '<') {
      out += '`';
      from = open + 1;
      continue;
    }
    out += fmt::format("<code>{}</code>", text.substr(open + 1, close - open - 1));
    from = close + 1;
  }
  return out + text.substr(from);
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

std::string shown_distance(double metres) {
  return carrying("m", metres, shown(metres, "m"));
}

std::string shown_velocity(double metres_per_second) {
  return carrying("v", metres_per_second, with_unit(figure(metres_per_second), "m/s"));
}

std::string shown_difference(double kelvin) {
  return carrying("dK", kelvin, with_unit(figure(kelvin), "K"));
}

std::string shown_change(double kelvin) {
  return carrying("dK", kelvin, with_unit(fmt::format("{:+.0f}", kelvin), "K"));
}

std::string shown_warming(double kelvin_per_second) {
  return carrying("rK", kelvin_per_second, with_unit(figure(kelvin_per_second), "K/s"));
}

std::string shown_celsius(const Temperature& temperature) {
  return carrying("K", temperature.kelvin, with_unit(figure(temperature.in_celsius()), "\u00b0C"));
}

std::string shown_sentence(std::string_view text) {
  std::string out;
  std::size_t from = 0, at = 0;
  while ((at = text.find_first_of("-0123456789", at)) != std::string_view::npos) {
    const auto sized = sized_at(text.substr(at));
    if (sized) {
      out += escaped(text.substr(from, at - from)) + markup_of(*sized);
      from = at += sized->length;
    } else {
      at = text.find_first_not_of(decimal_digits,
                                  at + 1);  // it would also fail at its next digit
      if (at == std::string_view::npos) break;
    }
  }
  return with_code(out + escaped(text.substr(from)));
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
