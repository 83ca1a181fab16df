#include <array>

#include "cases/read/case_sections.hpp"
#include "cases/read/part_keys.hpp"

namespace cw::cases {

namespace {

void read_at(Reading& reading, const Entry& entry, double& r, double& z) {
  if (const auto pair = read_two_lengths(reading, entry)) {
    r = pair->first;
    z = pair->second;
  }
}

template <class T>
void place(Reading& reading, const Entry& entry, T& to) {
  read_at(reading, entry, to.r, to.z);
}

constexpr std::array<std::string_view, 2> nearby_kinds = {"ring", "bracket"};

void nearby_material(Reading& reading, const Entry& entry, Nearby& to) {
  if (const auto name = read_text(reading, entry))
    to.material = resolve_material(reading, entry.path, *name);
}

constexpr std::array nearby_keys = {
    Key{"name", required, keys::text<&Nearby::name>, "\"bench clamp\""},
    Key{"kind", required, keys::choice<&Nearby::kind, NearbyKind, nearby_kinds>, "\"bracket\""},
    Key{"material", required, nearby_material, "\"steel-low-carbon\""},
    Key{"at", required, place<Nearby>, "[\"80 mm\", \"0 mm\"]"},
    Key{"diameter", optional, keys::quantity<&Nearby::diameter, D::length>, "\"20 mm\""},
    Key{"thickness", optional, keys::wire<&Nearby::thickness>, "\"2 mm\""},
    Key{"surface", optional, keys::quantity<&Nearby::surface, D::area>, "\"20 cm2\""},
};

/// A ring has diameter and thickness, a bracket its surface; neither may have the other's keys.
void finish_nearby(Reading& reading, const Entry& entry, const Nearby& nearby) {
  static constexpr std::array<std::string_view, 2> of_ring = {"diameter", "thickness"};
  static constexpr std::array<std::string_view, 1> of_bracket = {"surface"};
  const bool ring = nearby.kind == NearbyKind::ring;
  if (ring) {
    forbid(reading, entry, of_bracket, "it belongs to kind = \"bracket\"");
    for (const auto name : of_ring)
      if (!entry.node.table.contains(name))
        demand(reading, entry, name, name == "diameter" ? "\"20 mm\"" : "\"2 mm\"");
  } else {
    forbid(reading, entry, of_ring, "it belongs to kind = \"ring\"");
    if (!entry.node.table.contains("surface")) demand(reading, entry, "surface", "\"20 cm2\"");
  }
}

constexpr std::array pickup_keys = {
    Key{"turns", optional, keys::whole<&PickupLoop::turns>, "1"},
    Key{"diameter", required, keys::quantity<&PickupLoop::diameter, D::length>, "\"10 mm\""},
    Key{"at", required, place<PickupLoop>, "[\"60 mm\", \"0 mm\"]"},
};

constexpr std::array transformer_keys = {
    Key{"turns", required, keys::whole<&CurrentTransformer::turns>, "100"},
    Key{"burden", required, keys::quantity<&CurrentTransformer::burden, D::resistance>,
        "\"1 ohm\""},
};

constexpr std::array commissioning_keys = {
    Key{"pickup_loop", optional, keys::table<&Commissioning::pickup_loop, PickupLoop, pickup_keys>,
        "{ diameter = \"10 mm\", at = [\"60 mm\", \"0 mm\"] }"},
    Key<Commissioning>{
        "current_transformer", optional,
        keys::table<&Commissioning::current_transformer, CurrentTransformer, transformer_keys>,
        "{ turns = 100, burden = \"1 ohm\" }"},
};

constexpr std::array tolerance_keys = {
    Key{"capacitance", optional, keys::number<&Tolerance::capacitance>, "0.1"},
    Key{"gap", optional, keys::quantity<&Tolerance::gap, D::length>, "\"1 mm\""},
    Key{"permeability", optional, keys::number<&Tolerance::permeability>, "2"},
    Key{"resistivity", optional, keys::number<&Tolerance::resistivity>, "0.05"},
};

}  // namespace

void finish_core(Reading& reading, const Entry& entry) {
  if (entry.node.kind != Node::Kind::table) return;
  const auto has = [&](std::string_view name) { return entry.node.table.contains(name); };
  if (has("permeability") == has("al"))
    reading.complain(entry.path,
                     has("al") ? "found both permeability and al; allowed: one of them; remove one"
                               : "found neither permeability nor al; allowed: one of them; write "
                                 "al = \"135 nH\" from the data sheet");
  if (has("bias_80") != has("bias_50"))
    demand(reading, entry, has("bias_80") ? "bias_50" : "bias_80",
           has("bias_80") ? "\"8 kA/m\"" : "\"3.5 kA/m\"");
}

void read_nearby(Reading& reading, const Entry& entry, Case& to) {
  if (!is_list(reading, entry)) return;
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const Entry element{dotted(entry.path, std::to_string(i)), entry.node.list[i], "[[nearby]]"};
    reading.where.at[element.path] = element.node.at;
    Nearby nearby;
    read_table<Nearby>(reading, element, nearby_keys, nearby);
    if (element.node.kind != Node::Kind::table) continue;
    if (element.node.table.contains("kind")) finish_nearby(reading, element, nearby);
    to.nearby.push_back(std::move(nearby));
  }
}

void read_commissioning(Reading& reading, const Entry& entry, Case& to) {
  read_table<Commissioning>(reading, entry, commissioning_keys, to.commissioning);
}

void read_tolerance(Reading& reading, const Entry& entry, Case& to) {
  read_table<Tolerance>(reading, entry, tolerance_keys, to.tolerance);
}

}  // namespace cw::cases
