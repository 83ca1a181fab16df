#pragma once

#include <string>
#include <string_view>

namespace cw {

/// The number at the start of a text, and the text after it.
struct LeadingNumber {
  double value = 0.0;
  std::string_view digits;  ///< the number as written
  std::string_view rest;    ///< what follows, without blanks at its ends
  std::string complaint;    ///< empty if a finite number was read
};

/// Reads "25", "-0.4e-3", "1/4", "1 1/8" at the start of a text, with a decimal point in any
/// locale.
LeadingNumber read_leading_number(std::string_view text);

/// `text` without blanks at its ends.
std::string_view trimmed(std::string_view text);

}  // namespace cw
