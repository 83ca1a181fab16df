#pragma once

#include <map>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "cases/case.hpp"

namespace cw::cases {

/// A TOML value with its place in the text, for the readers of a case; independent of the parser.
struct Node {
  enum class Kind { table, list, text, whole, number, truth, date };
  Kind kind = Kind::table;
  TextPlace at;         ///< of the value; for members of a table that of the key
  std::string text;     ///< text
  double number = 0.0;  ///< whole and number
  bool truth = false;   ///< truth
  std::map<std::string, Node, std::less<>> table;  ///< table
  std::vector<Node> list;                          ///< list
};

/// A syntax error: its place, and a message in plain words.
struct SyntaxError {
  TextPlace at;
  std::string text;
};

/// Parses TOML text (UTF-8). Never throws for bad text; nesting deeper than 256 is a syntax error.
std::variant<Node, SyntaxError> parse_toml(std::string_view text);

/// A description of the value for messages: `the text "abc"`, `the number 7.5`, `a list`, ...
std::string describe(const Node& node);

}  // namespace cw::cases
