#pragma once

#include "materials/entry_section.hpp"

namespace cw {

/// A material from the top table of its file. Mistakes are collected, not thrown. Keys of the file:
/// - name, title, notes = ["..", ..]
/// - density = "8780 kg/m3", or, like every single quantity, { value, low, high, source, .. }
/// - resistivity (also "insulator"), thermal_conductivity, heat_capacity: the forms of `read_law`
/// - relative_permeability = 1.0, or for a magnetic metal one of the next two:
/// - magnetisation = { saturation = "2.0 T", half_field = "2 kA/m", curie = "770 degC" }, and, if
///   known, law_curie, exponent, temperature_law = { source, provenance }
/// - BH = { H = [0, ..], H_unit = "A/m", B = [0, ..], B_unit = "T", curie = "770 degC" }: peak
///   values at 20 degC
/// - emissivity = 0.6
/// - emissivity_by_surface = [ { surface = "rusted", value = 0.7 }, .. ]
/// - transformation = [ { at = "912 degC", latent = "16 kJ/kg" }, .. ]: changes in the solid
/// - melting = { solidus = "830 degC", liquidus = "1000 degC", latent = "190 kJ/kg" }
/// Every table may have source and provenance ("read", "recalled, not checked", "user"). Required:
/// name, density, the three laws, one of the three magnetic forms, emissivity.
Material material_from(const EntrySection& top);

}  // namespace cw
