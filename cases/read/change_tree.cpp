#include "cases/read/change_tree.hpp"

#include <algorithm>
#include <charconv>

#include "materials/number.hpp"

namespace cw::cases {

namespace {

/// The element of a list by number or by name.
Node* element(Node& list, std::string_view which) {
  std::size_t index = 0;
  const auto [end, failure] = std::from_chars(which.data(), which.data() + which.size(), index);
  if (failure == std::errc{} && end == which.data() + which.size()) {
    return index < list.list.size() ? &list.list[index] : nullptr;
  }
  const auto found = std::ranges::find_if(list.list, [&](const Node& node) {
    const auto name = node.table.find("name");
    return name != node.table.end() && name->second.text == which;
  });
  return found != list.list.end() ? &*found : nullptr;
}

Node* step(Node& from, std::string_view which) {
  if (from.kind == Node::Kind::list) return element(from, which);
  if (from.kind != Node::Kind::table) return nullptr;
  const auto [place, fresh] = from.table.try_emplace(std::string(which));
  if (fresh) place->second.at = from.at;
  return &place->second;
}

/// Removes and returns the part of a key before its first dot.
std::string_view take_name(std::string_view& key) {
  const auto dot = key.find('.');
  const std::string_view name = key.substr(0, dot);
  key = dot == std::string_view::npos ? std::string_view{} : key.substr(dot + 1);
  return name;
}

}  // namespace

std::string numbered(const Node& root, std::string_view key) {
  Node tree = root;  // step() creates what is missing
  Node* node = &tree;
  std::string place;
  while (!key.empty()) {
    const std::string_view name = take_name(key);
    Node* next = node != nullptr ? step(*node, name) : nullptr;
    const bool counted = next != nullptr && node->kind == Node::Kind::list;
    place += place.empty() ? "" : ".";
    place += counted ? std::to_string(next - node->list.data()) : std::string(name);
    node = next;
  }
  return place;
}

bool change_tree(Node& root, std::string_view key, std::string_view value,
                 std::optional<TextPlace> at) {
  Node* node = &root;
  while (node != nullptr && !key.empty()) {
    node = step(*node, take_name(key));
  }
  if (node == nullptr || node == &root) return false;
  Node changed;
  changed.at = at.value_or(node->at);
  const LeadingNumber number = read_leading_number(value);
  if (number.complaint.empty() && number.rest.empty()) {
    changed.kind = Node::Kind::number;
    changed.number = number.value;
  } else if (value == "true" || value == "false") {
    changed.kind = Node::Kind::truth;
    changed.truth = value == "true";
  } else {
    changed.kind = Node::Kind::text;
    changed.text = std::string(value);
  }
  *node = std::move(changed);
  return true;
}

}  // namespace cw::cases
