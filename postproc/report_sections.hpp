#pragma once

#include <string>
#include <vector>

#include "postproc/report.hpp"

namespace cw {

/// A part of the page; one without a body is left out.
struct Section {
  std::string id, heading;
  std::string body;  ///< markup
};

/// What the design does, what it gets wrong, what was warned of; the header of the cautions.
Section verdict_section(const Result& result);
/// Where the power goes in the state with the greatest power, as a bar and in numbers.
Section balance_section(const Result& result);
/// All states side by side.
Section states_section(const Result& result);
Section heat_section(const Result& result);
Section limits_section(const Result& result);
/// Sizes, inductance and resistance with their parts, every ring.
Section coil_section(const Result& result, const std::vector<ReportPicture>& pictures);
Section pictures_section(const std::vector<ReportPicture>& pictures);
Section stray_field_section(const Result& result);
Section accuracy_section(const Result& result);
/// In full; nothing leaves them out.
Section cautions_section(const Result& result);
Section sources_section(const Result& result);
/// Version, build and the fingerprint of the case.
Section making_section(const Result& result);

}  // namespace cw
