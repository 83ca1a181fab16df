#include <array>

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

constexpr std::array heat_keys = {
    Key{"target", optional, keys::quantity<&Heat::target, D::temperature>, "\"820 degC\""},
    Key{"target_at", optional, keys::choice<&Heat::target_at, TargetAt, target_places>,
        "\"coldest\""},
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
  if (entry.node.kind == Node::Kind::table && !table.contains("target") &&
      !table.contains("until")) {
    reading.complain(entry.path,
                     "found neither target nor until: the run has no end; write for example "
                     "target = \"820 degC\"");
  }
  to.heat = heat;
}

}  // namespace cw::cases
