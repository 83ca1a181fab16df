#include <algorithm>
#include <array>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "cases/read/case_sections.hpp"
#include "cases/read/fingerprint.hpp"
#include "cases/wording.hpp"
#include "materials/library.hpp"

namespace cw::cases {

namespace {

/// A workpiece or body as in the file.
struct Part {
  std::string name, material;
  std::optional<double> diameter, bore, length, centre, insertion;
  std::optional<std::vector<Point>> profile;
  std::optional<Temperature> temperature;
  TemperatureProfile temperature_profile;
  bool useful = false;
  std::optional<double> contact;
  std::optional<Coating> coating;
};

constexpr std::array<std::string_view, 2> coatings = {"zinc", "cadmium"};

using D = Dimension;
using enum Need;

constexpr std::array part_keys = {
    Key{"material", required, keys::text<&Part::material>, "\"steel-low-carbon\""},
    Key{"diameter", optional, keys::quantity<&Part::diameter, D::length>, "\"14 mm\""},
    Key{"bore", optional, keys::quantity<&Part::bore, D::length>, "\"6 mm\""},
    Key{"length", optional, keys::quantity<&Part::length, D::length>, "\"60 mm\""},
    Key{"centre", optional, keys::quantity<&Part::centre, D::length>, "\"0 mm\""},
    Key{"profile", optional, keys::corners<&Part::profile>,
        "[[\"0 mm\", \"-30 mm\"], [\"7 mm\", \"-30 mm\"], [\"0 mm\", \"30 mm\"]]"},
    Key{"temperature", optional, keys::quantity<&Part::temperature, D::temperature>, "\"20 degC\""},
    Key{"temperature_profile", optional, keys::temperatures<&Part::temperature_profile>,
        "[[\"0 mm\", \"900 degC\"], [\"4 mm\", \"500 degC\"]]"},
};

constexpr std::array own_workpiece_keys = {
    Key{"insertion", optional, keys::quantity<&Part::insertion, D::length>, "\"30 mm\""},
    Key{"coating", optional, keys::choice<&Part::coating, Coating, coatings>, "\"zinc\""},
};

constexpr std::array own_body_keys = {
    Key{"name", required, keys::text<&Part::name>, "\"sleeve\""},
    Key{"useful", optional, keys::truth<&Part::useful>, "true"},
    Key{"contact", optional, keys::quantity<&Part::contact, D::heat_transfer>, "\"2000 W/(m2 K)\""},
};

/// Joins two tables of keys.
template <std::size_t N, std::size_t M>
constexpr auto joined(const std::array<Key<Part>, N>& first, const std::array<Key<Part>, M>& then) {
  std::array<Key<Part>, N + M> all{};
  std::size_t n = 0;
  for (const auto& key : first) all[n++] = key;
  for (const auto& key : then) all[n++] = key;
  return all;
}

constexpr auto workpiece_keys = joined(part_keys, own_workpiece_keys);
constexpr auto body_keys = joined(own_body_keys, part_keys);

std::vector<Point> rectangle(double inner, double outer, double bottom, double top) {
  return {{inner, bottom}, {outer, bottom}, {outer, top}, {inner, top}};
}

/// The outline of a part by its diameter, bore, length and centre.
Outline cylinder(Reading& reading, const Entry& entry, const Part& part) {
  const auto& table = entry.node.table;
  const auto meant = [&](const char* name) {
    return std::ranges::find(reading.meant, dotted(entry.path, name)) != reading.meant.end();
  };
  const bool nothing = !table.contains("diameter") && !table.contains("length");
  if (nothing && meant("profile")) return {};
  if (nothing && !meant("diameter") && !meant("length")) {
    reading.complain(entry.path,
                     "found neither diameter and length nor a profile; write for example diameter "
                     "= \"14 mm\" and length = \"60 mm\"");
  } else {
    if (!table.contains("diameter")) demand(reading, entry, "diameter", "\"14 mm\"");
    if (!table.contains("length")) demand(reading, entry, "length", "\"60 mm\"");
  }
  if (part.diameter && part.bore && *part.bore >= *part.diameter) {
    reading.complain(
        dotted(entry.path, "bore"),
        fmt::format("found {}, not smaller than the diameter; allowed: below {}; "
                    "write a smaller bore, or leave it out for a solid part",
                    in_words(*part.bore, D::length), in_words(*part.diameter, D::length)));
  }
  const double centre = part.centre.value_or(0.0), half = part.length.value_or(0.0) / 2.0;
  return {part.diameter, part.bore, part.length, centre,
          rectangle(part.bore.value_or(0.0) / 2.0, part.diameter.value_or(0.0) / 2.0, centre - half,
                    centre + half)};
}

Outline outline(Reading& reading, const Entry& entry, const Part& part) {
  if (!entry.node.table.contains("profile")) return cylinder(reading, entry, part);
  static constexpr std::array<std::string_view, 4> others = {"diameter", "bore", "length",
                                                             "centre"};
  forbid(reading, entry, others, "profile already gives the whole outline");
  Outline shape;
  shape.profile = part.profile.value_or(std::vector<Point>{});
  return shape;
}

Part read_part(Reading& reading, const Entry& entry, std::span<const Key<Part>> allowed) {
  Part part;
  read_table<Part>(reading, entry, allowed, part);
  static constexpr std::array<std::string_view, 1> uniform = {"temperature"};
  if (entry.node.kind == Node::Kind::table && entry.node.table.contains("temperature_profile"))
    forbid(reading, entry, uniform, "temperature_profile already gives it at every depth");
  if (!part.temperature_profile.empty())
    part.temperature = part.temperature_profile.front().temperature;
  return part;
}

/// Names become keys of the result and names of regions in the field files, so only some are
/// allowed.
void check_name(Reading& reading, const std::string& key, const std::string& name) {
  static constexpr std::array<std::string_view, 6> taken = {"workpiece", "coil", "turn",
                                                            "air",       "axis", "total"};
  constexpr std::size_t longest = 40;
  const bool reserved = std::ranges::find(taken, name) != taken.end();
  const bool bad_sign = name.find_first_of("./\\\"'<>&") != std::string::npos;
  if (!reserved && !bad_sign && name.size() <= longest) return;
  reading.complain(key, fmt::format("found \"{}\"; allowed: up to {} letters, digits, blanks, - "
                                    "and _, and not one of {}; write for example \"sleeve\"",
                                    name, longest, fmt::join(taken, ", ")));
}

}  // namespace

Material resolve_material(Reading& reading, const std::string& key, const std::string& text) {
  if (text.empty()) return {};
  if (const auto known = reading.materials.find(text); known != reading.materials.end())
    return known->second;
  try {
    const bool path = text.find('/') != std::string::npos || text.ends_with(".toml");
    if (!path) return reading.materials.emplace(text, find_material(text)).first->second;
    const std::filesystem::path file = reading.file.parent_path() / text;
    const std::string bytes = material_text(file);
    Material found = read_material_text(bytes, file);
    reading.files[text] = sha256_hex(bytes);
    return reading.materials.emplace(text, std::move(found)).first->second;
  } catch (const MaterialError& error) {
    std::string_view lines = error.what();
    while (!lines.empty()) {
      const auto end = lines.find('\n');
      if (end != 0) reading.complain(key, std::string(lines.substr(0, end)));
      lines.remove_prefix(end == std::string_view::npos ? lines.size() : end + 1);
    }
    return {};
  }
}

void read_workpiece(Reading& reading, const Entry& entry, Case& to) {
  Part part = read_part(reading, entry, workpiece_keys);
  if (entry.node.kind != Node::Kind::table) return;
  Workpiece piece;
  piece.outline = outline(reading, entry, part);
  piece.material = resolve_material(reading, dotted(entry.path, "material"), part.material);
  if (part.temperature) piece.temperature = *part.temperature;
  piece.temperature_profile = std::move(part.temperature_profile);
  piece.insertion = part.insertion;
  piece.coating = part.coating;
  static constexpr std::array<std::string_view, 1> place = {"centre"};
  if (part.insertion)
    forbid(reading, entry, place, "insertion already determines the position of the workpiece");
  to.workpiece = std::move(piece);
}

void read_bodies(Reading& reading, const Entry& entry, Case& to) {
  if (entry.node.kind != Node::Kind::list) {
    reading.complain(
        entry.path,
        fmt::format("found {}; allowed: one [[body]] section for each body; write [[body]]",
                    describe(entry.node)));
    return;
  }
  for (std::size_t i = 0; i < entry.node.list.size(); ++i) {
    const Entry element{dotted(entry.path, std::to_string(i)), entry.node.list[i], "[[body]]"};
    reading.where.at[element.path] = element.node.at;
    Part part = read_part(reading, element, body_keys);
    if (element.node.kind != Node::Kind::table) continue;
    if (!part.name.empty()) check_name(reading, dotted(element.path, "name"), part.name);
    Body body;
    body.outline = outline(reading, element, part);
    body.material = resolve_material(reading, dotted(element.path, "material"), part.material);
    body.name = std::move(part.name);
    body.temperature = part.temperature;
    body.temperature_profile = std::move(part.temperature_profile);
    body.useful = part.useful;
    body.contact = part.contact;
    to.bodies.push_back(std::move(body));
  }
}

}  // namespace cw::cases
