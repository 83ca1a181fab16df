#include <array>

#include <fmt/format.h>

#include "cases/read/case_sections.hpp"

namespace cw::cases {

namespace {

using D = Dimension;
using enum Need;

constexpr std::array<std::string_view, 2> axis_stands = {"vertical", "horizontal"};
constexpr std::array<std::string_view, 4> target_places = {"surface", "centre", "mean", "coldest"};

void read_heated(Reading& reading, const Entry& entry, Heat& to) {
  const auto pair = read_two_lengths(reading, entry);
  if (!pair) return;
  if (pair->first >= pair->second) {
    reading.complain(entry.path,
                     "found a stretch that does not rise; allowed: the lower end first; write "
                     "[\"-20 mm\", \"20 mm\"]");
  }
  to.heated = Stretch{pair->first, pair->second};
}

void read_target_of(Reading& reading, const Entry& entry, Heat& to) {
  to.target_of = read_text(reading, entry);
}

void read_joint(Reading& reading, const Entry& entry, Heat& to) {
  if (!is_list(reading, entry)) return;
  std::vector<std::string> names;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const Entry element{dotted(entry.path, std::to_string(i)), entry.node.list[i], entry.sample};
    if (const auto name = read_text(reading, element)) names.push_back(*name);
  }
  if (names.size() == 2)
    to.target_joint = {names[0], names[1]};
  else
    reading.complain(
        entry.path,
        fmt::format(
            "found {} names; allowed: the two bodies to join; write [\"workpiece\", \"flange\"]",
            names.size()));
}

constexpr std::array heat_keys = {
    Key{"target", optional, keys::quantity<&Heat::target, D::temperature>, "\"820 degC\""},
    Key{"target_at", optional, keys::choice<&Heat::target_at, TargetAt, target_places>,
        "\"coldest\""},
    Key{"target_depth", optional, keys::quantity<&Heat::target_depth, D::length>, "\"2 mm\""},
    Key{"target_joint", optional, read_joint, "[\"workpiece\", \"flange\"]"},
    Key{"ceiling", optional, keys::quantity<&Heat::ceiling, D::temperature>, "\"780 degC\""},
    Key{"target_of", optional, read_target_of, "\"charge\""},
    Key{"heated", optional, read_heated, "[\"-20 mm\", \"20 mm\"]"},
    Key{"until", optional, keys::quantity<&Heat::until, D::time>, "\"180 s\""},
    Key{"surroundings", optional, keys::quantity<&Heat::surroundings, D::temperature>,
        "\"20 degC\""},
    Key{"emissivity", optional, keys::number<&Heat::emissivity>, "0.8"},
    Key{"axis", optional, keys::choice<&Heat::axis, AxisStands, axis_stands>, "\"vertical\""},
    Key{"thermometer", optional, keys::number<&Heat::thermometer>, "0.95"},
    Key{"harden", optional, keys::quantity<&Heat::harden, D::temperature>, "\"780 degC\""},
};

}  // namespace

void read_heat(Reading& reading, const Entry& entry, Case& to) {
  Heat heat;
  read_table<Heat>(reading, entry, heat_keys, heat);
  const auto& table = entry.node.table;
  static constexpr std::array<std::string_view, 2> places = {"target_at", "target_of"};
  if (entry.node.kind == Node::Kind::table && table.contains("target_depth"))
    forbid(reading, entry, places, "target_depth already determines the place of the target");
  static constexpr std::array<std::string_view, 3> others = {"target_at", "target_of",
                                                             "target_depth"};
  if (entry.node.kind == Node::Kind::table && table.contains("target_joint"))
    forbid(reading, entry, others, "target_joint already determines the place of the target");
  if (entry.node.kind == Node::Kind::table && !table.contains("target") &&
      !table.contains("target_depth") && !table.contains("until")) {
    reading.complain(entry.path,
                     "found neither target nor until: the run would have no end; write for example "
                     "target = \"820 degC\"");
  }
  to.heat = heat;
}

}  // namespace cw::cases
