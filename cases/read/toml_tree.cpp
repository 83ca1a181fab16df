#include "cases/read/toml_tree.hpp"

#include <algorithm>
#include <array>
#include <cctype>

#include <fmt/format.h>
// A user's "[ }" must be a message, not an abort; the same in every file that includes toml++.
#define TOML_ASSERT(expr) static_assert(true)
#include <toml++/toml.h>

namespace cw::cases {

namespace {

TextPlace place(const toml::source_region& region) {
  return {static_cast<unsigned>(region.begin.line), static_cast<unsigned>(region.begin.column)};
}

Node convert(const toml::node& from) {
  Node node;
  node.at = place(from.source());
  if (const auto* table = from.as_table()) {
    node.kind = Node::Kind::table;
    for (auto&& [key, value] : *table) {
      Node member = convert(value);
      if (key.source().begin.line > 0) member.at = place(key.source());
      node.table.emplace(std::string(key.str()), std::move(member));
    }
  } else if (const auto* list = from.as_array()) {
    node.kind = Node::Kind::list;
    for (auto&& element : *list) node.list.push_back(convert(element));
  } else if (const auto* text = from.as_string()) {
    node.kind = Node::Kind::text;
    node.text = text->get();
  } else if (const auto* whole = from.as_integer()) {
    node.kind = Node::Kind::whole;
    node.number = static_cast<double>(whole->get());
  } else if (const auto* number = from.as_floating_point()) {
    node.kind = Node::Kind::number;
    node.number = number->get();
  } else if (const auto* truth = from.as_boolean()) {
    node.kind = Node::Kind::truth;
    node.truth = truth->get();
  } else {
    node.kind = Node::Kind::date;
  }
  return node;
}

std::string_view line_of(std::string_view text, unsigned line) {
  for (; line > 1; --line) {
    const auto end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  return text.substr(0, text.find_first_of("\r\n"));
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// What to write instead, guessed from the line where the parser gave up; empty when nothing common
/// fits.
std::string remedy(std::string_view line) {
  line = trimmed(line.substr(0, line.find('#')));
  const auto equals = line.find('=');
  if (equals == std::string_view::npos) {
    if (line.starts_with('[')) return "";
    return "; a line is: key = value, or [section]";
  }
  const std::string_view key = trimmed(line.substr(0, equals));
  const std::string_view value = trimmed(line.substr(equals + 1));
  if (value.empty()) return fmt::format("; write a value behind {} =", key);
  const bool number = std::isdigit(static_cast<unsigned char>(value[0])) || value[0] == '-';
  const auto comma = value.find(',');
  if (number && comma != std::string_view::npos) {
    return fmt::format("; the decimal sign is a point: write {} = {}.{}", key,
                       value.substr(0, comma), value.substr(comma + 1));
  }
  const auto is_letter = [](unsigned char c) { return std::isalpha(c) != 0; };
  const bool plain = value.find_first_of("\"'[]{}") == std::string_view::npos;
  if (plain && std::ranges::any_of(value, is_letter)) {
    return fmt::format("; a value with letters stands in quotes: write {} = \"{}\"", key, value);
  }
  return "";
}

/// The parser's words, made plain where they are not.
std::string plain_words(std::string words) {
  struct Words {
    std::string_view theirs, ours;
  };
  static constexpr std::array known = {
      Words{"cannot redefine existing", "a key or section is written a second time"},
      Words{"exceeded maximum nested", "lists or tables are nested deeper than 256"},
      Words{"unescaped control characters", "a text in quotes is not closed on its line"},
      Words{"is not representable", "a whole number is too large to hold"},
  };
  for (const auto& [theirs, ours] : known) {
    if (words.find(theirs) == std::string::npos) continue;
    const auto name = words.rfind(" '");
    const bool named = theirs == known[0].theirs && name != std::string::npos;
    return named ? fmt::format("{}:{}", ours, words.substr(name)) : std::string(ours);
  }
  if (const auto end = words.find("'\\n'"); end != std::string::npos) {
    words.replace(end, 4, "the end of the line");
  }
  return words;
}

SyntaxError explain(const toml::parse_error& error, std::string_view text) {
  std::string words(error.description());
  if (const auto colon = words.find(": ");
      words.starts_with("Error while parsing") && colon != std::string::npos) {
    words.erase(0, colon + 2);
  }
  const TextPlace at = place(error.source());
  return {at, fmt::format("not valid TOML: {}{}", plain_words(std::move(words)),
                          remedy(line_of(text, at.line)))};
}

/// At most 60 bytes, cut between characters of UTF-8.
std::string shortened(const std::string& text) {
  constexpr std::size_t longest = 60;
  if (text.size() <= longest) return text;
  std::size_t end = longest - 3;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  return text.substr(0, end) + "...";
}

}  // namespace

std::variant<Node, SyntaxError> parse_toml(std::string_view text) {
  try {
    return convert(toml::parse(text));
  } catch (const toml::parse_error& error) {
    return explain(error, text);
  }
}

std::string describe(const Node& node) {
  switch (node.kind) {
    case Node::Kind::table:
      return "a table";
    case Node::Kind::list:
      return fmt::format("a list of {}", node.list.size());
    case Node::Kind::text:
      return fmt::format("the text \"{}\"", shortened(node.text));
    case Node::Kind::whole:
    case Node::Kind::number:
      return fmt::format("the number {}", node.number);
    case Node::Kind::truth:
      return node.truth ? "true" : "false";
    case Node::Kind::date:
      return "a date or time";
  }
  return "";
}

}  // namespace cw::cases
