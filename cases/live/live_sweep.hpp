#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "cases/live/live_answer.hpp"

namespace cw::cases {

/// A value that a sweep asked for on the page varies. Texts as typed: "7 mm".
struct SweptField {
  std::string key, from, to;
  int count = 0;
};

/// The text with a [sweep] over one or two of its fields, in place of its own, ranked by the power
/// in the work. Throws CaseError if a field cannot be swept, if check_live finds a mistake in the
/// text that results, or if there is no power to rank by.
std::string swept_text(const std::string& text, const std::filesystem::path& file,
                       const std::vector<SweptField>& fields);

/// Does what `coilwright sweep` does with a text that has [sweep], at accuracy fast and with one
/// process, into sweep_folder(). Messages: `sweeping`, how far it is; at the end `part`, the map.
void sweep_live(const std::string& text, const std::filesystem::path& file,
                const SendMessage& send);

/// The folder beside the case.
std::filesystem::path sweep_folder(const std::filesystem::path& file);

}  // namespace cw::cases
