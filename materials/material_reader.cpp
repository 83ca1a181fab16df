#include "materials/material_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <span>

#include "materials/law_builder.hpp"
#include "materials/law_reader.hpp"
#include "materials/magnetisation_curve.hpp"

namespace cw {
namespace {

constexpr Want fraction{Dimension::number, 0.0, true, 1.0};

void add_distinct(std::vector<Source>& list, const Source& s) {
  const auto same = [&](const Source& have) {
    return have.text == s.text && have.provenance == s.provenance;
  };
  if (std::none_of(list.begin(), list.end(), same)) list.push_back(s);
}

/// curie, law_curie, exponent: common to both descriptions of a magnetic metal.
void read_temperature_law(const EntrySection& s, Magnetisation& m) {
  m.curie = temperature(s, "curie", "770 degC");
  m.law_curie = s.get("law_curie") != nullptr ? temperature(s, "law_curie", "770 degC") : m.curie;
  if (m.law_curie < m.curie) {
    s.fault(*s.get("law_curie"), "law_curie",
            "is below curie; allowed: curie or above it; leave it out");
  }
  if (m.curie <= Temperature::celsius(20.0) && s.get("curie") != nullptr && m.curie.kelvin > 0.0) {
    s.fault(*s.get("curie"), "curie",
            "is not above 20 degC; such a metal is not magnetic at room temperature; write "
            "relative_permeability = 1.0 instead");
  }
  if (const Entry* n = s.get("exponent")) {
    m.exponent = quantity(s, "exponent", *n, {Dimension::number, 0.5, true, 10.0, "2.9"})
                     .value_or(m.exponent);
  }
  m.temperature_law = s.source;
  if (const Entry* law = s.get("temperature_law")) {
    if (law->table() == nullptr) {
      s.fault(*law, "temperature_law",
              "allowed: a table; write { source = \"..\", provenance = \"read\" }");
      return;
    }
    const EntrySection inner = s.inside("temperature_law", *law);
    inner.only({"source", "provenance"});
    m.temperature_law = source_of(inner);
  }
}

/// `{ saturation = "2.0 T", half_field = "2 kA/m", curie = "770 degC" }`, each optionally with band
/// and source.
Magnetisation read_magnetisation(EntrySection s) {
  s.only({"saturation", "half_field", "curie", "law_curie", "exponent", "temperature_law", "source",
          "provenance"});
  s.source = source_of(s);
  Magnetisation m;
  m.saturation = sourced(s, "saturation", {Dimension::flux_density});
  m.half_field = sourced(s, "half_field", {Dimension::field_strength});
  read_temperature_law(s, m);
  return m;
}

/// `BH = { H = [..], H_unit = "A/m", B = [..], B_unit = "T", uncertainty = 0.05, curie = "770 degC"
/// }`, peak values at 20 degC; the band is relative, of B, and applies to the saturation too.
void read_curve(EntrySection s, Material& material) {
  s.only({"H", "H_unit", "B", "B_unit", "uncertainty", "curie", "law_curie", "exponent",
          "temperature_law", "source", "provenance"});
  s.source = source_of(s);
  const std::size_t before = s.mistakes.found.size();
  MagnetisationCurve curve{column(s, "H", "H_unit", {Dimension::field_strength, 0.0, true}),
                           column(s, "B", "B_unit", {Dimension::flux_density, 0.0, true}),
                           s.source};
  if (const Entry* u = s.get("uncertainty"))
    curve.uncertainty =
        quantity(s, "uncertainty", *u, {Dimension::number, 0.0, true, 1.0, "0.05"}).value_or(0.0);
  Magnetisation rest;
  read_temperature_law(s, rest);
  if (curve.field.empty() || curve.flux_density.empty()) return;
  if (curve.field.size() != curve.flux_density.size()) {
    s.fault(*s.get("B"), "B",
            fmt::format("found {} values for {} of H; allowed: one for each",
                        curve.flux_density.size(), curve.field.size()));
    return;
  }
  for (const std::string& fault : faults_of(curve)) s.fault(*s.get("B"), "B", fault);
  if (s.mistakes.found.size() != before) return;
  const auto fit = froehlich_fit(curve);
  if (!fit) {
    s.fault(
        *s.get("B"), "B",
        "does not bend towards saturation; allowed: a curve whose H/J rises with H; add points at "
        "higher fields");
    return;
  }
  rest.saturation = fit->saturation;
  rest.saturation.low *= 1.0 - curve.uncertainty;
  rest.saturation.high *= 1.0 + curve.uncertainty;
  rest.half_field = fit->half_field;
  material.magnetisation = rest;
  material.magnetisation_curve = std::move(curve);
}

void read_magnetism(const EntrySection& top, Material& m) {
  const Entry* mu = top.get("relative_permeability");
  const Entry* magnetisation = top.get("magnetisation");
  const Entry* curve = top.get("BH");
  const int given =
      (mu != nullptr ? 1 : 0) + (magnetisation != nullptr ? 1 : 0) + (curve != nullptr ? 1 : 0);
  m.relative_permeability = {1.0, 1.0, 1.0, top.source};
  if (given != 1) {
    top.fault(
        given == 0                 ? top.entry
        : magnetisation != nullptr ? *magnetisation
                                   : *curve,
        "relative_permeability",
        fmt::format(
            "found {} of relative_permeability, magnetisation, BH; allowed: exactly one; write "
            "relative_permeability = 1.0 for a metal that is not magnetic",
            given == 0 ? "none" : "more than one"));
  }
  if (mu != nullptr)
    m.relative_permeability =
        sourced(top, "relative_permeability", {.dimension = Dimension::number, .show = "1.0"});
  for (const auto& [key, entry] :
       {std::pair("magnetisation", magnetisation), std::pair("BH", curve)}) {
    if (entry != nullptr && entry->table() == nullptr) {
      top.fault(*entry, key,
                fmt::format(
                    "found {}; allowed: a table; write magnetisation = {{ saturation = \"2.0 T\", "
                    "half_field = \"2 kA/m\", curie = \"770 degC\" }}",
                    entry->kind()));
    }
  }
  if (magnetisation != nullptr && magnetisation->table() != nullptr) {
    m.magnetisation = read_magnetisation(top.inside("magnetisation", *magnetisation));
  }
  if (curve != nullptr && curve->table() != nullptr) read_curve(top.inside("BH", *curve), m);
}

Melting read_melting(EntrySection s) {
  s.only({"solidus", "liquidus", "latent", "source", "provenance"});
  s.source = source_of(s);
  const Sourced solidus =
      sourced(s, "solidus", {.dimension = Dimension::temperature, .show = "830 degC"});
  const Sourced liquidus =
      sourced(s, "liquidus", {.dimension = Dimension::temperature, .show = "1000 degC"});
  const Sourced latent = sourced(s, "latent", {Dimension::specific_energy});
  if (solidus.value > liquidus.value && liquidus.value > 0.0) {
    s.fault(*s.get("solidus"), "solidus",
            "is above liquidus; allowed: at or below it; exchange them");
  }
  Melting m{{solidus.value}, {liquidus.value}, latent.value, {}};
  for (const Sourced& part : {solidus, liquidus, latent}) add_distinct(m.sources, part.source);
  return m;
}

/// The tables of a list; none if it is missing or is not such a list.
std::span<const Entry> tables_of(const EntrySection& top, const char* key, const char* sample) {
  const Entry* list = top.get(key);
  if (list == nullptr) return {};
  if (list->tables()) return *list->list();
  top.fault(*list, key, fmt::format("allowed: a list of tables; write [ {} ]", sample));
  return {};
}

void read_surfaces(const EntrySection& top, Material& m) {
  for (const Entry& item :
       tables_of(top, "emissivity_by_surface", "{ surface = \"rusted\", value = 0.7 }")) {
    const EntrySection s = top.inside("emissivity_by_surface", item);
    s.only({"surface", "value", "low", "high", "source", "provenance"});
    if (s.need("surface", "surface = \"rusted\"") == nullptr) continue;
    m.emissivity_by_surface.emplace_back(text(s, "surface").value_or(""),
                                         sourced_here(s, fraction));
  }
}

void read_transformations(const EntrySection& top, Material& m) {
  for (const Entry& item :
       tables_of(top, "transformation", "{ at = \"912 degC\", latent = \"16 kJ/kg\" }")) {
    const EntrySection s = top.inside("transformation", item);
    s.only({"at", "latent", "source", "provenance"});
    const double latent = quantity(s, "latent", {Dimension::specific_energy}).value_or(0.0);
    m.transformations.push_back({temperature(s, "at", "912 degC"), latent, source_of(s)});
  }
}

void read_notes(const EntrySection& top, Material& m) {
  const Entry* notes = top.get("notes");
  if (notes == nullptr) return;
  bool good = notes->list() != nullptr;
  if (good) {
    for (const Entry& item : *notes->list()) {
      good = good && item.text() != nullptr;
      if (item.text() != nullptr) m.notes.push_back(*item.text());
    }
  }
  if (!good)
    top.fault(*notes, "notes",
              "found something else; allowed: a list of texts; write notes = [\"...\"]");
}

}  // namespace

Material material_from(const EntrySection& top) {
  top.only({"name", "title", "density", "resistivity", "relative_permeability", "magnetisation",
            "BH", "thermal_conductivity", "heat_capacity", "transformation", "emissivity",
            "emissivity_by_surface", "melting", "notes"});
  Material m;
  (void)top.need("name", "name = \"shop-bronze\"");
  m.name = text(top, "name").value_or("");
  m.title = text(top, "title").value_or(m.name);
  m.density = sourced(top, "density", {Dimension::density});
  m.resistivity = read_law(top, "resistivity", Dimension::resistivity);
  read_magnetism(top, m);
  m.thermal_conductivity = read_law(top, "thermal_conductivity", Dimension::thermal_conductivity);
  const std::size_t before = top.mistakes.found.size();
  m.heat_capacity = read_law(top, "heat_capacity", Dimension::heat_capacity);
  read_transformations(top, m);
  if (top.mistakes.found.size() == before) {
    const std::string fault = fold_in(m.heat_capacity, m.transformations);
    if (!fault.empty()) top.fault(*top.get("transformation"), "transformation", fault);
  }
  m.emissivity = sourced(top, "emissivity", fraction);
  read_surfaces(top, m);
  if (const Entry* melting = top.get("melting")) {
    if (melting->table() != nullptr) {
      m.melting = read_melting(top.inside("melting", *melting));
    } else {
      top.fault(
          *melting, "melting",
          "allowed: a table; write { solidus = \"830 degC\", liquidus = \"1000 degC\", latent = "
          "\"190 kJ/kg\" }");
    }
  }
  read_notes(top, m);
  return m;
}

}  // namespace cw
