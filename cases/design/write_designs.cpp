#include "cases/design/write_designs.hpp"

#include <fmt/format.h>

#include "cases/design/design_case.hpp"
#include "cases/design/design_page.hpp"
#include "cases/run/run_case.hpp"
#include "postproc/result/in_place.hpp"
#include "postproc/result/result_directory.hpp"
#include "postproc/result/write_result.hpp"

namespace cw::cases {

namespace {

std::string designs_table(const std::vector<OfferedDesign>& designs) {
  std::string table =
      "design,turns,bore_m,pitch_m,strings,cans_in_series,conductor_m,time_to_target_s,"
      "largest_supply_power_W,largest_coil_current_A\n";
  for (const OfferedDesign& d : designs) {
    const auto time = d.result.heat->time_to_target;
    table += fmt::format("{},{:g},{:g},{:g},{},{},{:g},{},{:g},{:g}\n", words_of(d.kinds.front()),
                         d.choice.turns, d.choice.bore, d.choice.pitch, d.choice.strings,
                         d.choice.in_series, d.tube, time ? fmt::format("{:g}", *time) : "",
                         most_while_heating(d.result, &HeatLine::total_W),
                         most_while_heating(d.result, &HeatLine::tank_current));
  }
  return table;
}

}  // namespace

void write_designs(const ShelfCase& shelf, const FoundDesigns& found,
                   const std::filesystem::path& directory) {
  const auto& designs = found.offered.empty() ? found.nearest : found.offered;
  if (designs.empty()) return;
  replace_result_directory(directory, [&](const std::filesystem::path& folder) {
    for (const OfferedDesign& design : designs)
      write_file(folder / file_of(design), design_case(shelf, design, directory));
    std::filesystem::create_directory(folder / "tables");
    write_file(folder / "tables" / "designs.csv", designs_table(designs));
    write_file(folder / "report.html", design_page(shelf, found));
    Result first = designs.front().result;
    sign(designs.front().subject, first);
    // Last: a directory with result.json is complete.
    write_file(folder / "result.json", result_json(first));
  });
}

}  // namespace cw::cases
