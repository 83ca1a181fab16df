#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "cases/read/case_sections.hpp"
#include "cases/read/part_keys.hpp"
#include "materials/copper_tube.hpp"

namespace cw::cases {

namespace {

/// A conductor as in the file.
struct Metal {
  std::string material;
  std::optional<double> tube, wall, wire, strand, bundle, lay;
  std::optional<std::pair<double, double>> bar;
  std::optional<int> strands;
};

constexpr std::array conductor_keys = {
    Key{"tube", optional, keys::quantity<&Metal::tube, D::length>, "\"6 mm\""},
    Key{"wall", optional, keys::quantity<&Metal::wall, D::length>, "\"1 mm\""},
    Key{"wire", optional, keys::wire<&Metal::wire>, "\"2 mm\""},
    Key{"bar", optional, keys::two_lengths<&Metal::bar>, "[\"8 mm\", \"4 mm\"]"},
    Key{"strands", optional, keys::whole<&Metal::strands>, "400"},
    Key{"strand", optional, keys::wire<&Metal::strand>, "\"0.1 mm\""},
    Key{"bundle", optional, keys::quantity<&Metal::bundle, D::length>, "\"5 mm\""},
    Key{"lay", optional, keys::number<&Metal::lay>, "1.02"},
    Key{"material", optional, keys::text<&Metal::material>, "\"copper-tube\""},
};

/// A kind of conductor: the key that selects it, and the keys that go with it.
struct MetalKind {
  std::string_view key;
  std::vector<std::string_view> needs, refuses;
  std::string_view sample;
};

const std::array<MetalKind, 4>& metal_kinds() {
  static const std::array<MetalKind, 4> kinds = {
      MetalKind{"tube", {}, {"strand", "bundle", "lay"}, ""},
      MetalKind{"wire", {}, {"wall", "strand", "bundle", "lay"}, ""},
      MetalKind{"bar", {}, {"strand", "bundle", "lay"}, ""},
      MetalKind{"strands", {"strand", "bundle"}, {"wall"}, "\"0.1 mm\""}};
  return kinds;
}

/// The kind in the file; reports none or several.
const MetalKind* metal_kind(Reading& reading, const Entry& entry) {
  const MetalKind* chosen = nullptr;
  for (const MetalKind& kind : metal_kinds()) {
    if (!entry.node.table.contains(kind.key)) continue;
    if (chosen != nullptr) {
      reading.complain(
          dotted(entry.path, kind.key),
          fmt::format("found both {} and {}; allowed: one of tube, wire, bar, strands; remove one",
                      chosen->key, kind.key));
      return nullptr;
    }
    chosen = &kind;
  }
  if (chosen == nullptr) {
    reading.complain(entry.path,
                     "found no size; allowed: one of tube, wire, bar, strands; write for example "
                     "{ tube = \"6 mm\", wall = \"1 mm\" }");
  }
  return chosen;
}

/// The wall of a tube; by default that of the usual copper tube.
double wall_of(Reading& reading, const Entry& entry, const Metal& metal) {
  constexpr std::string_view sample = "\"1 mm\"";
  const bool written = entry.node.table.contains("wall");
  if (written || !metal.tube) return metal.wall.value_or(0);
  if (!metal.material.empty() && !metal.material.starts_with("copper-")) {
    demand(reading, entry, "wall", sample);
    return 0;
  }
  if (const auto tube = usual_copper_tube(*metal.tube)) return tube->wall;
  const std::string path = dotted(entry.path, "wall");
  if (std::ranges::find(reading.meant, path) == reading.meant.end())
    reading.complain(path, fmt::format("found no wall, and {:.4g} mm is no usual copper tube "
                                       "({}); write for example wall = {}",
                                       1e3 * *metal.tube, usual_copper_tubes(), sample));
  return 0;
}

Conductor build_conductor(Reading& reading, const Entry& entry, const Metal& metal) {
  Conductor conductor;
  const MetalKind* kind = metal_kind(reading, entry);
  if (kind != nullptr) {
    for (const std::string_view name : kind->needs) {
      if (!entry.node.table.contains(name)) demand(reading, entry, name, kind->sample);
    }
    forbid(reading, entry, kind->refuses, fmt::format("the conductor is a {}", kind->key));
    if (kind->key == "tube")
      conductor.section = RoundTube{metal.tube.value_or(0), wall_of(reading, entry, metal)};
    if (kind->key == "wire") conductor.section = RoundWire{metal.wire.value_or(0)};
    if (kind->key == "bar" && metal.bar) {
      conductor.section = RectangularBar{metal.bar->first, metal.bar->second, metal.wall};
    }
    if (kind->key == "strands") {
      StrandBundle bundle{metal.strands.value_or(0), metal.strand.value_or(0),
                          metal.bundle.value_or(0)};
      if (metal.lay) bundle.lay = *metal.lay;
      conductor.section = bundle;
    }
  }
  conductor.material = resolve_material(reading, dotted(entry.path, "material"),
                                        metal.material.empty() ? "copper-tube" : metal.material);
  return conductor;
}

void read_conductor(Reading& reading, const Entry& entry, Coil& to) {
  Metal metal;
  read_table<Metal>(reading, entry, conductor_keys, metal);
  if (entry.node.kind == Node::Kind::table) to.conductor = build_conductor(reading, entry, metal);
}

constexpr std::array leads_keys = {
    Key{"length", required, keys::quantity<&Leads::length, D::length>, "\"120 mm\""},
    Key{"spacing", required, keys::quantity<&Leads::spacing, D::length>, "\"20 mm\""},
    Key{"warming", optional, keys::table<&Leads::warming, Warming, warming_keys>, warming_sample},
};

constexpr std::array coolant_keys = {
    Key{"flow", required, keys::quantity<&Coolant::flow, D::flow>, "\"0.5 L/min\""},
    Key{"inlet", optional, keys::quantity<&Coolant::inlet, D::temperature>, "\"20 degC\""},
    Key{"rise", optional, keys::quantity<&Coolant::rise, D::temperature_difference>, "\"15 K\""},
    Key{"pressure", optional, keys::quantity<&Coolant::pressure, D::pressure>, "\"2 bar\""},
};

constexpr std::array ring_keys = {
    Key{"r", required, keys::quantity<&Ring::r, D::length>, "\"25 mm\""},
    Key{"z", required, keys::quantity<&Ring::z, D::length>, "\"-9 mm\""},
};

constexpr std::string_view ring_sample =
    "[{ r = \"25 mm\", z = \"-9 mm\" }, { r = \"25 mm\", z = \"9 mm\" }]";

constexpr std::array<std::string_view, 4> shapes = {"helix", "flat", "cone", "rings"};

constexpr std::array coil_keys = {
    Key{"shape", optional, keys::choice<&Coil::shape, CoilShape, shapes>, "\"helix\""},
    Key{"turns", optional, keys::number<&Coil::turns>, "8"},
    Key{"bore", optional, keys::quantity<&Coil::bore, D::length>, "\"32 mm\""},
    Key{"bore_end", optional, keys::quantity<&Coil::bore_end, D::length>, "\"50 mm\""},
    Key{"pitch", optional, keys::quantity<&Coil::pitch, D::length>, "\"7.5 mm\""},
    Key{"gap", optional, keys::quantity<&Coil::gap, D::length>, "\"1.5 mm\""},
    Key{"ring", optional, keys::tables<&Coil::rings, Ring, ring_keys>, ring_sample},
    Key{"conductor", required, read_conductor, "{ tube = \"6 mm\", wall = \"1 mm\" }"},
    Key{"leads", optional, keys::table<&Coil::leads, Leads, leads_keys>,
        "{ length = \"120 mm\", spacing = \"20 mm\" }"},
    Key{"coolant", optional, keys::table<&Coil::coolant, Coolant, coolant_keys>,
        "{ flow = \"0.5 L/min\", inlet = \"20 degC\" }"},
    Key{"temperature", optional, keys::quantity<&Coil::temperature, D::temperature>, "\"20 degC\""},
    Key{"temperature_limit", optional, keys::quantity<&Coil::temperature_limit, D::temperature>,
        "\"120 degC\""},
};

void finish_rings(Reading& reading, const Entry& entry, Coil& coil) {
  static constexpr std::array<std::string_view, 5> others = {"turns", "bore", "bore_end", "pitch",
                                                             "gap"};
  forbid(reading, entry, others, "with shape = \"rings\" each turn is given by ring");
  if (!entry.node.table.contains("ring")) demand(reading, entry, "ring", ring_sample);
  coil.turns = static_cast<double>(coil.rings.size());
  double smallest = coil.rings.empty() ? 0.0 : coil.rings[0].r;
  for (const Ring& ring : coil.rings) smallest = std::min(smallest, ring.r);
  coil.bore = std::max(0.0, 2.0 * smallest - coil.conductor.radial_size());
}

/// The pitch from pitch or gap; a single turn may leave both out.
void finish_pitch(Reading& reading, const Entry& entry, Coil& coil) {
  const auto& table = entry.node.table;
  const bool pitch = table.contains("pitch"), gap = table.contains("gap");
  if (pitch && gap) {
    reading.complain(dotted(entry.path, "gap"),
                     "found both pitch and gap; allowed: one of them; remove one");
  }
  const bool several = coil.turns > 1.0 || !std::isfinite(coil.turns);
  const bool meant_gap =
      std::ranges::find(reading.meant, dotted(entry.path, "gap")) != reading.meant.end();
  if (!pitch && !gap && !meant_gap && several) demand(reading, entry, "pitch", "\"7.5 mm\"");
  if (coil.gap) {
    const bool flat = coil.shape == CoilShape::flat;
    coil.pitch = *coil.gap + (flat ? coil.conductor.radial_size() : coil.conductor.axial_size());
  }
}

}  // namespace

void read_coil(Reading& reading, const Entry& entry, Case& to) {
  Coil coil;
  read_table<Coil>(reading, entry, coil_keys, coil);
  if (entry.node.kind != Node::Kind::table) return;
  const auto shape = entry.node.table.find("shape");
  const bool known_shape = shape == entry.node.table.end() ||
                           std::ranges::find(shapes, shape->second.text) != shapes.end();
  if (!known_shape) return;  // the other missing keys depend on the shape
  if (coil.shape == CoilShape::rings) {
    finish_rings(reading, entry, coil);
  } else {
    const auto& table = entry.node.table;
    if (!table.contains("turns")) demand(reading, entry, "turns", "8");
    if (!table.contains("bore")) demand(reading, entry, "bore", "\"32 mm\"");
    static constexpr std::array<std::string_view, 1> ring = {"ring"}, end = {"bore_end"};
    forbid(reading, entry, ring, "it goes with shape = \"rings\" only");
    if (coil.shape != CoilShape::cone) {
      forbid(reading, entry, end, "it goes with shape = \"cone\" only");
    } else if (!table.contains("bore_end")) {
      demand(reading, entry, "bore_end", "\"50 mm\"");
    }
    finish_pitch(reading, entry, coil);
  }
  to.coil = std::move(coil);
}

}  // namespace cw::cases
