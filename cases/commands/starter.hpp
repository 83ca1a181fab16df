#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "materials/embedded.hpp"

namespace cw {

/// The files of cases/starters, sorted by name.
std::span<const EmbeddedFile> embedded_starters();

}  // namespace cw

namespace cw::cases {

/// Kinds of starter case, the usual one first: "bar", then by job and shape ("braze", "harden",
/// ...).
std::vector<std::string_view> starter_kinds();

/// A commented case file of this kind that passes every check; an empty kind means "bar". Throws
/// std::invalid_argument with the list of kinds for any other word.
std::string starter_case(std::string_view kind);

}  // namespace cw::cases

namespace cw {
using cases::starter_case;
using cases::starter_kinds;
}  // namespace cw
