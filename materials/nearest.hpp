#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace cw {

/// The known word that a mistyped one most likely means, or nothing if none is close. Distance:
/// Damerau-Levenshtein, optimal string alignment (Damerau 1964, Comm. ACM 7(3) 171; Levenshtein
/// 1966, from memory), where a wrong capital counts half. Accepted up to one edit for every three
/// letters; a one-letter word only by its capital. The first of equally near words wins. Otherwise
/// the only known word that begins with it, if it has at least four letters.
std::optional<std::string> nearest(std::string_view word, std::span<const std::string> known);

}  // namespace cw
