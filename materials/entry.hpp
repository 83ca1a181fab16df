#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace cw {

struct Member;

/// A value of a material file with its place, independent of the parser.
struct Entry {
  using List = std::vector<Entry>;
  using Table = std::vector<Member>;
  int line = 1, column = 1;
  /// monostate: a type that no key has (dates, true and false).
  std::variant<std::monostate, double, std::string, List, Table> value;

  [[nodiscard]] const double* number() const { return std::get_if<double>(&value); }
  [[nodiscard]] const std::string* text() const { return std::get_if<std::string>(&value); }
  [[nodiscard]] const List* list() const { return std::get_if<List>(&value); }
  [[nodiscard]] const Table* table() const { return std::get_if<Table>(&value); }
  /// A non-empty list of tables only.
  [[nodiscard]] bool tables() const;
  /// "a table", "a text" ... for messages.
  [[nodiscard]] std::string_view kind() const;
};

/// One key of a table; line and column are those of the key.
struct Member {
  std::string key;
  int line = 1, column = 1;
  Entry entry;
};

}  // namespace cw
