#pragma once

#include <filesystem>
#include <string>

#include "postproc/report/report_sections.hpp"
#include "postproc/result/read_designs.hpp"

namespace cw {

/// The drawings of a sweep, as in its folder, SVG; empty if it has none.
struct SweepDrawings {
  std::string map, pareto, sensitivity;
};

/// The sweep as one page: best design and why, map, Pareto front, sensitivity, ranked table, two
/// designs side by side. Self-contained, and readable without its script, as report_page() is.
std::string sweep_page(const DesignsFile& designs, const SweepDrawings& drawings);

/// Makes report.html of a sweep's folder from designs.json and pictures/. Throws ResultFileError,
/// WriteError.
void write_sweep_report(const std::filesystem::path& directory);

/// Whether the folder is that of a sweep.
bool is_sweep_directory(const std::filesystem::path& directory);

// Sections of the page.

/// The best designs and why they lead, how many others failed and why, what to change, cautions.
PageSection sweep_verdict_section(const DesignsFile& designs);
/// All ranked designs; with scripts the table sorts and filters.
PageSection sweep_table_section(const DesignsFile& designs);
/// The best two side by side; with the script any two.
PageSection sweep_compare_section(const DesignsFile& designs);
/// Designs that could not be ranked, with the reasons.
PageSection sweep_refused_section(const DesignsFile& designs);
/// The numbers of all designs for the page's script.
std::string sweep_data(const DesignsFile& designs);

/// A value of a varied key: escaped; a length is marked so that it can be converted to inches.
std::string shown_value(const std::string& value);
/// "turns 8, pitch 7.5 mm": markup.
std::string shown_design(const DesignSheet& sheet, const DesignLine& line);

/// The command that opens a design on the live page, to be typed into a shell: plain text. The name
/// of the case file is not known: CASE.toml stands for it.
std::string live_command(const DesignSheet& sheet, const DesignLine& line);

/// Largest number of designs in a page: the best; tables/designs.csv holds all of them.
inline constexpr std::size_t most_designs_shown = 1000;
/// How many of sheet.best and of sheet.breaking are shown.
struct ShownDesigns {
  std::size_t best, breaking;
};
ShownDesigns shown_designs(const DesignSheet& sheet);

}  // namespace cw
