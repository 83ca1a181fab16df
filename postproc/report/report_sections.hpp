#pragma once

#include <string>
#include <vector>

#include "postproc/report/report.hpp"

namespace cw {

/// Position of a section on the screen.
enum class Place {
  first,  ///< side by side at the top
  open,
  folded  ///< only the heading, which opens the section
};

/// When a section is printed.
enum class Paper {
  always,     ///< always, even if the user asks for only two pages
  asked_for,  ///< if the user asks for everything
  own_sheet   ///< as asked_for, or alone on a sheet
};

/// A part of the page; one without a body is left out.
struct PageSection {
  std::string id, heading;
  std::string body;  ///< markup
  Place place = Place::open;
  Paper paper = Paper::always;
  std::string gist = {};  ///< markup: summary beside a folded heading
};

/// Whether the heater does the job, what holds it back, what would help, which limits are near.
PageSection verdict_section(const Result& result);
/// The coil cut open, in the state with the greatest power.
PageSection cut_open_section(const std::vector<ReportPicture>& pictures);
/// What to build and set, line by line.
PageSection recipe_section(const Result& result);
/// The header of the cautions and those that this design triggers, one line each.
PageSection care_section(const Result& result);
/// The cautions of the design, one line each; their full texts are further down the page. Markup.
std::string before_switching_on(const Result& result);
/// Where the model is less accurate.
PageSection warnings_section(const Result& result);
/// Where the power goes in the state with the greatest power, as a bar and in numbers.
PageSection balance_section(const Result& result);
/// All states side by side.
PageSection states_section(const Result& result);
PageSection heat_section(const Result& result);
PageSection limits_section(const Result& result);
/// How the heat of the coil is carried away, and how long it may stay on without cooling.
PageSection cooling_section(const Result& result);
/// Chokes, heat sinks, conductors, the wall socket: results from their data in the case.
PageSection built_parts_section(const Result& result);
/// Sizes, inductance and resistance with their parts, every ring.
PageSection coil_section(const Result& result);
/// Tube, cans, transistors, chokes, supply: how many, and the ratings they need.
PageSection parts_section(const Result& result);
/// Former, spacer, bends, directions of the ends.
PageSection winding_section(const Result& result);
/// The joints between bank, coil, drive and supply, and their currents.
PageSection joints_section(const Result& result);
/// The expected first readings, with room for one's own.
PageSection commissioning_section(const Result& result);
/// A card to cut out and pin to the wall.
PageSection recipe_card_section(const Result& result);
/// "copper-tube, round, 6 mm outside, wall 1 mm": markup.
std::string conductor_words(const Conductor& conductor);
/// "in parallel", "as 8 strings of 2 in series".
std::string wiring_of(const Tank& tank);
/// A slider selects the state; it begins with the one of the greatest power.
PageSection pictures_section(const Result& result, const std::vector<ReportPicture>& pictures);
/// The pictures of the stray field.
std::string stray_figure(const std::vector<ReportPicture>& pictures);
PageSection stray_field_section(const Result& result, const std::vector<ReportPicture>& pictures);
PageSection accuracy_section(const Result& result);
/// In full, always.
PageSection cautions_section(const Result& result);
PageSection sources_section(const Result& result);
/// Version, build and the fingerprint of the case.
PageSection making_section(const Result& result);

}  // namespace cw
