#include "cases/live/case_fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <sstream>
#include <string_view>

#include "cases/live/linked_values.hpp"
#include "cases/read/change_tree.hpp"
#include "cases/read/toml_tree.hpp"
#include "cases/run/case_lines.hpp"

namespace cw::cases {

namespace {

struct FieldName {
  std::string_view section, key, label;
};

constexpr std::array<FieldName, 16> field_names{{
    {"coil", "turns", "Turns"},
    {"coil", "bore", "Bore, clear inside"},
    {"coil", "pitch", "Pitch, turn to turn"},
    {"coil", "gap", "Gap between turns"},
    {"drive", "supply", "Supply voltage"},
    {"drive", "frequency", "Frequency"},
    {"drive", "rms", "Drive, rms"},
    {"tank", "capacitance", "Capacitance of the whole bank"},
    {"tank", "cans", "Cans in it"},
    {"workpiece", "material", "Material of the work"},
    {"workpiece", "diameter", "Diameter of the work"},
    {"workpiece", "length", "Length of the work"},
    {"workpiece", "centre", "Middle of the work"},
    {"workpiece", "insertion", "Depth of the work in the coil"},
    {"workpiece", "temperature", "Work at the start"},
    {"heat", "target", "Target"},
}};

/// The value at section.key, if it is a text or a number.
const Node* plain_value(const Node& root, const FieldName& name) {
  const auto section = root.table.find(name.section);
  if (section == root.table.end()) return nullptr;
  const auto found = section->second.table.find(name.key);
  if (found == section->second.table.end()) return nullptr;
  using Kind = Node::Kind;
  const Kind kind = found->second.kind;
  return kind == Kind::text || kind == Kind::whole || kind == Kind::number ? &found->second
                                                                           : nullptr;
}

std::string value_text(const Node& node) {
  return node.kind == Node::Kind::text ? node.text : fmt::format("{}", node.number);
}

/// Where the comment of a line begins: the first # outside of quotes.
std::size_t comment_at(std::string_view line) {
  char quote = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    if (quote == 0 && line[i] == '#') return i;
    if (quote == 0 && (line[i] == '"' || line[i] == '\'')) {
      quote = line[i];
    } else if (line[i] == quote) {
      quote = 0;
    }
  }
  return line.size();
}

/// The changed line with the comment that the line had before, where it stood if there is room.
std::string with_own_comment(std::string_view before, std::string_view after) {
  const std::size_t at = comment_at(before);
  std::string line(after.substr(0, comment_at(after)));
  line.erase(line.find_last_not_of(" \t") + 1);
  if (at == before.size()) return line;
  line.resize(std::max(line.size() + 1, at), ' ');
  return line + std::string(before.substr(at));
}

std::ptrdiff_t lines_in(const std::string& text) {
  return std::ranges::count(text, '\n') + (text.ends_with('\n') ? 0 : 1);
}

/// The changed text with the comments of before. With a line more no old value was replaced.
std::string comments_kept(const std::string& before, const std::string& after) {
  if (lines_in(before) != lines_in(after)) return after;
  std::istringstream old_lines(before), new_lines(after);
  std::string text, was, is;
  while (std::getline(new_lines, is)) {
    if (!std::getline(old_lines, was)) was.clear();
    text += (is == was ? is : with_own_comment(was, is)) + "\n";
  }
  return text;
}

bool may_stand_in_quotes(std::string_view value) {
  return !value.empty() && std::ranges::none_of(value, [](char c) {
    return c == '"' || c == '\\' || static_cast<unsigned char>(c) < ' ' || c == 0x7F;
  });
}

bool is_bare_number(std::string_view value) {
  return value.find_first_not_of("0123456789.") == std::string_view::npos;
}

/// The value at a dotted key; null if there is none.
const Node* value_at(const Node* node, std::string_view key) {
  while (node != nullptr && !key.empty()) {
    const std::size_t dot = std::min(key.find('.'), key.size());
    const auto found = node->table.find(key.substr(0, dot));
    node = found == node->table.end() ? nullptr : &found->second;
    key.remove_prefix(std::min(dot + 1, key.size()));
  }
  return node;
}

bool same_value(const Node& one, const Node& other) {
  const auto kind = [](const Node& node) {
    return node.kind == Node::Kind::whole ? Node::Kind::number : node.kind;
  };
  return kind(one) == kind(other) && one.text == other.text && one.number == other.number &&
         one.truth == other.truth;
}

}  // namespace

std::vector<CaseField> fields_of(const std::string& text) {
  const auto tree = parse_toml(text);
  const auto* root = std::get_if<Node>(&tree);
  std::vector<CaseField> fields;
  if (root == nullptr) return fields;
  for (const FieldName& name : field_names)
    if (const Node* node = plain_value(*root, name))
      fields.push_back({fmt::format("{}.{}", name.section, name.key), std::string(name.label),
                        value_text(*node), node->kind == Node::Kind::text});
  return fields;
}

std::optional<std::string> with_field(const std::string& text, const std::string& key,
                                      const std::string& value) {
  const std::vector<CaseField> fields = fields_of(text);
  const auto field = std::ranges::find(fields, key, &CaseField::key);
  const bool known = field != fields.end();
  if ((!known && key != "workpiece.centre") || !may_stand_in_quotes(value)) return std::nullopt;
  const auto tree = parse_toml(text);
  const auto* root = std::get_if<Node>(&tree);
  if (root == nullptr) return std::nullopt;
  const bool quoted = !known || field->quoted || !is_bare_number(value);
  CaseLines lines(text);
  const std::size_t dot = key.find('.');
  std::vector<WrittenValue> values = linked_values(*root, key, value);
  values.push_back(
      {key.substr(0, dot), key.substr(dot + 1), quoted ? fmt::format("\"{}\"", value) : value});
  for (const WrittenValue& v : values)
    if (!lines.put(v.section, v.key, v.value)) return std::nullopt;
  // A line that was not there before has no comment to keep, and moves the others.
  return known ? comments_kept(text, lines.text()) : lines.text();
}

std::optional<std::string> with_value(const std::string& text, const std::string& key,
                                      const std::string& value) {
  auto tree = parse_toml(text);
  auto* root = std::get_if<Node>(&tree);
  const std::size_t dot = key.rfind('.');
  if (root == nullptr || dot == std::string::npos || !may_stand_in_quotes(value) ||
      !change_tree(*root, key, value))
    return std::nullopt;
  const Node* wanted = value_at(root, key);
  if (wanted == nullptr) return std::nullopt;
  const bool quoted = wanted->kind == Node::Kind::text;
  CaseLines lines(text);
  if (!lines.put(key.substr(0, dot), key.substr(dot + 1),
                 quoted ? fmt::format("\"{}\"", value) : value))
    return std::nullopt;
  const std::string changed = comments_kept(text, lines.text());
  const auto again = parse_toml(changed);
  const Node* written = value_at(std::get_if<Node>(&again), key);
  if (written == nullptr || !same_value(*written, *wanted)) return std::nullopt;
  return changed;
}

}  // namespace cw::cases
