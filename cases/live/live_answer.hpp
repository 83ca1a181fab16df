#pragma once

#include <filesystem>
#include <functional>
#include <string>

namespace cw::cases {

/// Takes a message: a JSON object with one of these members.
/// - `computing`: what is being computed, in words
/// - `part`, `html`: a part of the page by its id, ready to be shown
/// - `accuracy`: of a whole solution that has been sent
/// - `lamps`: part, state, word and nearness of each limit
/// - `figures`: name and value of each figure to compare variants by
/// - `result`: the whole result, as in result.json
/// - `failed`: why it could not be solved
/// - `written`: the folder of a report
using SendMessage = std::function<void(const std::string&)>;

/// Solves a small heater and forgets it. What a process needs only once is then done: starting the
/// mesher, reading units and materials, binding the functions of libraries.
void warm_up();

/// Solves a checked case at accuracy fast and sends every part as soon as it is ready: state after
/// state, their limits, the demand and field, then the heating run. Then solves it again at
/// accuracy normal. The figures are those of `coilwright run`.
void answer_live(const std::string& text, const std::filesystem::path& file,
                 const SendMessage& send);

/// Does what `coilwright run` does, into report_folder().
void report_live(const std::string& text, const std::filesystem::path& file,
                 const SendMessage& send);

/// The result directory beside the case.
std::filesystem::path report_folder(const std::filesystem::path& file);

}  // namespace cw::cases
