#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace cw {

/// The known word a mistyped one most likely stands for, or nothing when none is close.
/// Distance: Damerau-Levenshtein, optimal string alignment (Damerau 1964, Comm. ACM 7(3) 171;
/// Levenshtein 1966, from memory), where a wrong capital counts half. Accepted up to one edit for
/// every three letters; a one-letter word only by its capital. The first of equally near words
/// wins. Else the only known word that begins with it, from four letters on.
std::optional<std::string> nearest(std::string_view word, std::span<const std::string> known);

}  // namespace cw
