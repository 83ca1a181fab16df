#pragma once

#include <string>

#include "solver/outcome/result.hpp"

namespace cw {

/// tables/tube.csv: temperature of a dry tube against time, heating up, then cooling down.
std::string tube_table(const StillAirCooling& air);

/// tables/stray.csv: a line for each distance.
std::string stray_table(const ExposureResult& exposure);

}  // namespace cw
