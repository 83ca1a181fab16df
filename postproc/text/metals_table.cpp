#include "postproc/text/metals_table.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "postproc/result/cautions.hpp"
#include "postproc/result/write_tables.hpp"
#include "postproc/text/metals_reasons.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

namespace {

constexpr std::size_t metals_columns = 80;

std::string table_row(const MetalComparison& all, const MetalCurve& metal) {
  const MetalPoint& p = at_case(all, metal);
  const double surface = metal.surface_resistance(p);
  return fmt::format("{:<20}{:>9}{:>9}{:>9}{:>8}{:>9}{:>9}{:>7}\n",
                     fmt::format("{:.19}{}", metal.name, metal.beyond_data ? "*" : ""),
                     figure(1e3 * p.work), figure(1e3 * p.coil), figure(100 * p.efficiency()),
                     figure(1e3 * p.skin_depth), figure(all.thickness / p.skin_depth),
                     figure(1e3 * surface), figure(surface / p.coil_surface));
}

/// For each metal the frequency up to which the part is too thin for the permeability law.
std::string thin_parts(const MetalComparison& all) {
  std::string parts;
  for (const MetalCurve& metal : all.metals) {
    for (std::size_t k = all.frequencies.size(); k-- > 0;) {
      const MetalPoint& p = metal.points[k];
      if (p.law_valid) continue;
      parts += fmt::format("{}{} up to {}", parts.empty() ? "" : ", ", metal.name,
                           figure(all.frequencies[k].hertz, "Hz"));
      break;
    }
  }
  if (parts.empty()) return {};
  return fmt::format(
      "Too thin for a single permeability over the period, and off by more than 2 %: {}; "
      "tables/metals.csv gives the error.",
      parts);
}

/// What the figures of magnetic metals leave out.
std::string magnetic_note(const MetalComparison& all) {
  for (const MetalCurve& metal : all.metals)
    if (metal.magnetic)
      return fmt::format(
          "Magnetic metals saturate: their values hold only at {} rms. Hysteresis loss is left "
          "out.",
          figure(all.current, "A"));
  return {};
}

std::string head(const MetalComparison& all) {
  std::string text = wrapped(all.title, {metals_columns, 0, 0});
  text += wrapped(fmt::format("Every metal in place of the workpiece, at {} degC, with {} rms in "
                              "the coil at {}. Powers are per square ampere of coil current.",
                              figure(all.temperature.in_celsius()), figure(all.current, "A"),
                              figure(all.frequencies[all.at_case].hertz, "Hz")),
                  {metals_columns, 0, 0});
  return text;
}

}  // namespace

std::string metals_errors(const MetalComparison& all) {
  double work = 0.0, coil = 0.0;
  for (const MetalCurve& metal : all.metals)
    for (const MetalPoint& p : metal.points) {
      work = std::max(work, p.work_error);
      coil = std::max(coil, p.coil_error);
    }
  return fmt::format(
      "Estimated error of the mesh, all metals and frequencies: work power at most {}, coil loss "
      "{}.",
      percent(work), percent(coil));
}

std::vector<std::string> metals_warnings(const MetalComparison& all, const Result& result) {
  std::vector<std::string> warnings{magnetic_note(all), thin_parts(all)};
  warnings.insert(warnings.end(), result.warnings.begin(), result.warnings.end());
  std::erase(warnings, "");
  return warnings;
}

std::string metals_table(const MetalComparison& all) {
  std::string table = fmt::format(
      "metal,frequency [Hz],power in workpiece [W/A^2],coil loss [W/A^2],leads and other bodies "
      "[W/A^2],efficiency,skin depth [m],{} over skin depth,surface resistance [ohm],surface "
      "resistance of coil [ohm],relative permeability at surface,estimated error of "
      "power,estimated error of coil loss,error of permeability law\n",
      all.size_name);
  for (const MetalCurve& metal : all.metals) {
    for (std::size_t k = 0; k < all.frequencies.size(); ++k) {
      const MetalPoint& p = metal.points[k];
      table += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n", table_field(metal.name),
                           all.frequencies[k].hertz, p.work, p.coil, p.others, p.efficiency(),
                           p.skin_depth, all.thickness / p.skin_depth, metal.surface_resistance(p),
                           p.coil_surface, p.permeability, p.work_error, p.coil_error, p.law_error);
    }
  }
  return table;
}

std::string reasons_table(const MetalComparison& all) {
  std::string table =
      fmt::format("metal,why at {}\n", figure(all.frequencies[all.at_case].hertz, "Hz"));
  for (const MetalCurve& metal : all.metals)
    table += fmt::format("{},{}\n", table_field(metal.name), table_field(metal_reason(all, metal)));
  return table;
}

std::string metals_text(const MetalComparison& all, const Result& result) {
  std::string text = head(all);
  text += fmt::format("\n{:<20}{:>9}{:>9}{:>9}{:>8}{:>9}{:>9}{:>7}\n", "metal", "work", "coil",
                      "effic.", "skin", all.size_name, "surface", "times");
  text += fmt::format("{:<20}{:>9}{:>9}{:>9}{:>8}{:>9}{:>9}{:>7}\n", "", "mW/A^2", "mW/A^2", "%",
                      "mm", "/skin", "mohm", "coil's");
  bool beyond = false;
  for (const MetalCurve& metal : all.metals) {
    text += table_row(all, metal);
    beyond = beyond || metal.beyond_data;
  }
  if (beyond)
    text += wrapped("* resistivity not known at this temperature: nearest value used",
                    {metals_columns, 0, 0});
  text += wrapped(metals_errors(all), {metals_columns, 0, 0});
  text += "\nWhy\n";
  for (const MetalCurve* metal : notable_metals(all))
    text += wrapped("- " + metal_reason(all, *metal), {metals_columns, 2, 4});
  const std::vector<std::string> warnings = metals_warnings(all, result);
  if (!warnings.empty()) text += "\nWarnings\n";
  for (const std::string& warning : warnings)
    text += wrapped("- " + warning, {metals_columns, 2, 4});
  text += "\nCautions\n";
  for (const auto& caution : cautions(result))
    text += wrapped("- " + caution.brief, {metals_columns, 2, 4});
  return text;
}

}  // namespace cw
