#pragma once

#include "materials/entry_section.hpp"

namespace cw {

/// A material from the top table of its file. Mistakes are gathered, not thrown. Keys of the file:
///
///   name, title, notes = ["..", ..]
///   density = "8780 kg/m3"                       or { value, low, high, source, provenance }, as
///   every single quantity resistivity, thermal_conductivity, heat_capacity             the forms
///   of `read_law`; resistivity = "insulator" relative_permeability = 1.0                  or one
///   of these two for a magnetic metal: magnetisation = { saturation = "2.0 T", half_field = "2
///   kA/m", curie = "770 degC" }
///       and, if known, law_curie, exponent, temperature_law = { source, provenance }
///   BH = { H = [0, ..], H_unit = "A/m", B = [0, ..], B_unit = "T", curie = "770 degC" }   peak
///   values at 20 degC emissivity = 0.6, emissivity_by_surface = [ { surface = "rusted", value =
///   0.7 }, .. ] transformation = [ { at = "912 degC", latent = "16 kJ/kg" }, .. ]     changes in
///   the solid melting = { solidus = "830 degC", liquidus = "1000 degC", latent = "190 kJ/kg" }
///
/// Every table may carry source and provenance ("read", "recalled, not checked", "user"). Needed:
/// name, density, the three laws, one of the three magnetic forms, emissivity.
Material material_from(const EntrySection& top);

}  // namespace cw
