#include <fmt/core.h>

#include "materials/figures.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"

namespace cw {

namespace {

/// "empty_frequency" in words: what to read, and where.
std::string reading_words(const std::string& name) {
  if (name == "empty_inductance") return "Empty coil: inductance at the ends of the leads";
  if (name == "empty_frequency") return "Empty coil: frequency";
  if (name == "empty_current") return "Empty coil: supply current, DC";
  if (name == "loaded_frequency") return "Cold work in place: frequency";
  if (name == "loaded_current") return "Cold work in place: supply current, DC";
  if (name == "transformer_voltage") return "Empty coil: across the current transformer, rms";
  if (name == "pickup_voltage") return "Empty coil: across the pick-up loop, rms";
  return capitalised(state_words(name));
}

}  // namespace

PageSection commissioning_section(const Result& result) {
  if (!result.commissioning || result.commissioning->readings.empty()) return {};
  PageTable table{"Expected readings", {"Reading", "Expected", "Within", "Mine"}, {{}}};
  for (const ReadingResult& r : result.commissioning->readings)
    table.groups[0].rows.push_back(
        {reading_words(r.name),
         {shown(r.value, r.unit),
          fmt::format("{} to {}", shown(r.low, r.unit), shown(r.high, r.unit)),
          "<span class=\"blank\"></span>"}});
  return {"commissioning", "Commissioning sheet",
          "<p>At the supply voltage of the case, the empty coil first. The band follows from the "
          "tolerances of the parts. If a reading is outside it, write the readings into a file: "
          "<code>coilwright compare "
          "CASE.toml READINGS.toml</code> names the likely fault.</p>\n" +
              markup(table)};
}

}  // namespace cw
