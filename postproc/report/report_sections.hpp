#pragma once

#include <string>
#include <vector>

#include "postproc/report/report.hpp"

namespace cw {

/// Where a section stands on the screen.
enum class Place {
  first,  ///< side by side at the top
  open,
  folded  ///< a heading that opens
};

/// When a section is printed.
enum class Paper {
  always,     ///< also where only two pages are asked for
  asked_for,  ///< where everything is asked for
  own_sheet   ///< as asked_for, or alone
};

/// A part of the page; one without a body is left out.
struct PageSection {
  std::string id, heading;
  std::string body;  ///< markup
  Place place = Place::open;
  Paper paper = Paper::always;
  std::string gist = {};  ///< markup: what stands beside a folded heading
};

/// Whether it does the job, what holds it back, what would help, which limits are near.
PageSection verdict_section(const Result& result);
/// The coil cut open, in the state with the greatest power.
PageSection cut_open_section(const std::vector<ReportPicture>& pictures);
/// What to build and set, line by line.
PageSection recipe_section(const Result& result);
/// The header of the cautions and those this very design calls for, each in a line.
PageSection care_section(const Result& result);
/// The cautions of the design, each in a line; in full further down the page. Markup.
std::string before_switching_on(const Result& result);
/// Where the model is less accurate.
PageSection warnings_section(const Result& result);
/// Where the power goes in the state with the greatest power, as a bar and in numbers.
PageSection balance_section(const Result& result);
/// All states side by side.
PageSection states_section(const Result& result);
PageSection heat_section(const Result& result);
PageSection limits_section(const Result& result);
/// What carries the heat of the coil away, and for how long it may go without.
PageSection cooling_section(const Result& result);
/// Chokes, heat sinks, conductors, the wall socket: what their data in the case led to.
PageSection built_parts_section(const Result& result);
/// Sizes, inductance and resistance with their parts, every ring.
PageSection coil_section(const Result& result);
/// Tube, cans, transistors, chokes, supply: how much and what each must stand.
PageSection parts_section(const Result& result);
/// Former, spacer, bends, where the ends leave.
PageSection winding_section(const Result& result);
/// What the first readings should be, with room for one's own.
PageSection commissioning_section(const Result& result);
/// To cut out and pin to the wall.
PageSection recipe_card_section(const Result& result);
/// "copper-tube, round, 6 mm outside, wall 1 mm": markup.
std::string conductor_words(const Conductor& conductor);
/// "in parallel", "as 8 strings of 2 in series".
std::string wiring_of(const Tank& tank);
/// A slider goes through the states; it begins with the one of the greatest power.
PageSection pictures_section(const Result& result, const std::vector<ReportPicture>& pictures);
/// The pictures of the field far around.
std::string stray_figure(const std::vector<ReportPicture>& pictures);
PageSection stray_field_section(const Result& result, const std::vector<ReportPicture>& pictures);
PageSection accuracy_section(const Result& result);
/// In full; nothing leaves them out.
PageSection cautions_section(const Result& result);
PageSection sources_section(const Result& result);
/// Version, build and the fingerprint of the case.
PageSection making_section(const Result& result);

}  // namespace cw
