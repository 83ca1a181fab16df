#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <memory>

#include "cases/commands/command.hpp"
#include "cases/commands/output.hpp"
#include "materials/figures.hpp"
#include "materials/library.hpp"
#include "postproc/text/wrap.hpp"

namespace cw::cases {

namespace {

constexpr Temperature room = Temperature::celsius(20.0);

std::string number(double value) {
  return std::isfinite(value) ? figure_short(value) : "-";
}

std::string melts(const Material& m) {
  if (!m.melting) return "-";
  const double solidus = m.melting->solidus.in_celsius(),
               liquidus = m.melting->liquidus.in_celsius();
  return liquidus - solidus < 0.5 ? fmt::format("{:.0f}", liquidus)
                                  : fmt::format("{:.0f}-{:.0f}", solidus, liquidus);
}

std::string curie(const Material& m) {
  return m.magnetisation ? fmt::format("{:.0f}", m.magnetisation->curie.in_celsius()) : "-";
}

void add_sources(std::string& out, const std::vector<Source>& sources) {
  for (const Source& s : sources)
    out += wrapped(fmt::format("source ({}): {}", s.provenance, s.text), {80, 6, 6});
}

void add_law(std::string& out, const char* what, const char* unit, const Law& law, double scale) {
  out += fmt::format("  {} [{}]\n", what, unit);
  if (!std::isfinite(law(room))) {
    out += "      insulator\n";
    return;
  }
  if (law.lowest == law.highest) {
    out += fmt::format("      {} at every temperature\n", number(scale * law(room)));
  } else {
    out += fmt::format("      {:.0f} to {:.0f} degC", law.lowest - zero_celsius,
                       law.highest - zero_celsius);
    if (law.uncertainty > 0) out += fmt::format(", +-{:.3g} %", 100 * law.uncertainty);
    out += "\n";
    std::string row;
    for (const double t : {20.0, 200.0, 400.0, 600.0, 800.0, 1000.0, 1200.0})
      if (law.covers(Temperature::celsius(t)))
        row += fmt::format("{}{} at {:.0f}", row.empty() ? "" : ", ",
                           number(scale * law(Temperature::celsius(t))), t);
    if (!row.empty()) out += wrapped(row, {80, 6, 6});
  }
  add_sources(out, law.sources);
}

void add_value(std::string& out, const char* what, const char* unit, const Sourced& value) {
  out += fmt::format("  {} {}{}{}", what, number(value.value), *unit == 0 ? "" : " ", unit);
  if (value.low < value.high)
    out += fmt::format(" ({} to {})", number(value.low), number(value.high));
  out += "\n";
  add_sources(out, {value.source});
}

/// The library as a table, one line per material, at most 80 columns.
std::string material_table() {
  std::string out =
      fmt::format("{:<19}{:>12}{:>9}{:>10}{:>9}{:>11}{:>8}\n", "material", "resistivity",
                  "conduct.", "heat cap.", "density", "melts", "Curie");
  out += fmt::format("{:<19}{:>12}{:>9}{:>10}{:>9}{:>11}{:>8}\n", "at 20 degC", "nohm m", "W/(m K)",
                     "J/(kg K)", "kg/m3", "degC", "degC");
  for (const std::string& name : material_names()) {
    const Material m = find_material(name);
    out += fmt::format(
        "{:<19}{:>12}{:>9}{:>10}{:>9}{:>11}{:>8}\n", name,
        m.insulator() ? "insulator" : number(1e9 * m.resistivity(room)),
        number(m.thermal_conductivity(room)), fmt::format("{:.0f}", m.heat_capacity(room)),
        m.density.value >= 10 ? fmt::format("{:.0f}", m.density.value) : number(m.density.value),
        melts(m), curie(m));
  }
  return out + "\ncoilwright materials NAME shows one with every value, range and source.\n";
}

/// One material, by library name or by the path of a file: every value with its range and source,
/// wrapped at 80 columns. Throws MaterialError.
std::string material_sheet(std::string_view name_or_path) {
  const bool path =
      name_or_path.find('/') != std::string_view::npos || name_or_path.ends_with(".toml");
  const Material m =
      path ? read_material(std::filesystem::path(name_or_path)) : find_material(name_or_path);
  std::string out = fmt::format("{}\n", m.name) + wrapped(m.title, {80, 2, 2});
  add_value(out, "density", "kg/m3", m.density);
  add_law(out, "resistivity", "nohm m", m.resistivity, 1e9);
  add_law(out, "thermal conductivity", "W/(m K)", m.thermal_conductivity, 1);
  add_law(out, "heat capacity", "J/(kg K)", m.heat_capacity, 1);
  add_value(out, "emissivity", "", m.emissivity);
  for (const auto& [surface, value] : m.emissivity_by_surface)
    add_value(out, fmt::format("emissivity, {}:", surface).c_str(), "", value);
  if (m.magnetisation) {
    add_value(out, "saturation at 20 degC", "T", m.magnetisation->saturation);
    add_value(out, "half of it at a field of", "A/m peak", m.magnetisation->half_field);
    out += fmt::format("  Curie point {:.0f} degC\n", m.magnetisation->curie.in_celsius());
  } else {
    add_value(out, "relative permeability", "", m.relative_permeability);
  }
  if (m.melting) {
    out += fmt::format("  melts {} degC, latent heat {} kJ/kg\n", melts(m),
                       number(m.melting->latent / 1e3));
    add_sources(out, m.melting->sources);
  }
  for (const std::string& note : m.notes) out += wrapped("note: " + note, {80, 2, 2});
  return out;
}

}  // namespace

void add_materials(CLI::App& app, Work& work) {
  auto* command =
      app.add_subcommand("materials", "list the materials, or one with every value and source");
  command->group("Write a case");
  add_examples(*command, {"coilwright materials", "coilwright materials steel-medium-carbon"});
  const auto name = std::make_shared<std::string>();
  command->add_option("name", *name, "material, or path of a material file");
  command->callback([name, &work] {
    work = [name] {
      say(name->empty() ? material_table() : material_sheet(*name));
      return solved;
    };
  });
}

}  // namespace cw::cases
