#pragma once

#include <functional>
#include <istream>
#include <string>

namespace cw::cases {

/// Asks in plain words for what a shelf file holds, and gives its text: work, job, supply, cans,
/// conductor, cooling. A wrong answer is asked for again; an empty one takes what stands in
/// brackets. Throws std::invalid_argument where the answers end too early.
std::string ask_shelf(std::istream& answers, const std::function<void(const std::string&)>& say);

}  // namespace cw::cases
