#include "cases/live/linked_values.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <optional>

#include "cases/run/case_lines.hpp"
#include "materials/units.hpp"

namespace cw::cases {

namespace {

const Node* node_at(const Node& root, const char* section, const char* key) {
  const auto table = root.table.find(section);
  if (table == root.table.end()) return nullptr;
  const auto found = table->second.table.find(key);
  return found == table->second.table.end() ? nullptr : &found->second;
}

std::optional<double> length_in(const Node& node) {
  return node.kind == Node::Kind::text ? parse_quantity(node.text, Dimension::length).value
                                       : std::nullopt;
}

std::vector<WrittenValue> scaled_bank(const Node& root, const std::string& cans) {
  const Node *before = node_at(root, "tank", "cans"), *bank = node_at(root, "tank", "capacitance");
  const double count = std::strtod(cans.c_str(), nullptr);
  if (before == nullptr || bank == nullptr || bank->kind != Node::Kind::text ||
      before->number < 1 || count < 1)
    return {};
  char* unit = nullptr;
  const double capacitance = std::strtod(bank->text.c_str(), &unit);
  return {{"tank", "capacitance",
           fmt::format("\"{:.6g}{}\"", capacitance * count / before->number, unit)}};
}

/// `upwards`: +1 if a larger value is further up.
std::vector<WrittenValue> moved_stretch(const Node& root, const Node* before,
                                        const std::string& value, double upwards) {
  const Node* heated = node_at(root, "heat", "heated");
  const auto wanted = parse_quantity(value, Dimension::length).value;
  const std::optional<double> own = before == nullptr ? 0.0 : length_in(*before);
  if (heated == nullptr || heated->list.size() != 2 || !wanted || !own) return {};
  const auto from = length_in(heated->list[0]), to = length_in(heated->list[1]);
  if (!from || !to) return {};
  const double way = upwards * (*wanted - *own);
  return {{"heat", "heated",
           fmt::format("[{}, {}]", millimetre_text(*from + way), millimetre_text(*to + way))}};
}

}  // namespace

std::vector<WrittenValue> linked_values(const Node& root, const std::string& key,
                                        const std::string& value) {
  if (key == "tank.cans") return scaled_bank(root, value);
  if (key == "workpiece.centre")
    return moved_stretch(root, node_at(root, "workpiece", "centre"), value, 1.0);
  const Node* depth = node_at(root, "workpiece", "insertion");
  if (key == "workpiece.insertion" && depth != nullptr)
    return moved_stretch(root, depth, value, -1.0);
  return {};
}

}  // namespace cw::cases
