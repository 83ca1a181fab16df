#pragma once

#include <string>
#include <string_view>

namespace cw {

/// The number a text starts with and what follows it.
struct LeadingNumber {
  double value = 0.0;
  std::string_view digits;  ///< the number as written
  std::string_view rest;    ///< what follows, without blanks at its ends
  std::string complaint;    ///< empty when a finite number was read
};

/// Reads "25", "-0.4e-3", "1/4", "1 1/8" at the start of a text, with a decimal point whatever the
/// locale.
LeadingNumber read_leading_number(std::string_view text);

/// `text` without blanks at its ends.
std::string_view trimmed(std::string_view text);

}  // namespace cw
