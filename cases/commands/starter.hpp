#pragma once

#include <span>
#include <string>
#include <string_view>

namespace cw::cases {

/// Kinds of starter case: "bar" (the usual one), "cup", "pancake", "empty", "sweep".
std::span<const std::string_view> starter_kinds();

/// A commented case file of that kind which passes every check; an empty kind means "bar".
/// Throws std::invalid_argument that lists the kinds for any other word.
std::string starter_case(std::string_view kind);

}  // namespace cw::cases

namespace cw {
using cases::starter_case;
using cases::starter_kinds;
}  // namespace cw
