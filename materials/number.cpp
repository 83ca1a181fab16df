#include "materials/number.hpp"

#include <charconv>
#include <cmath>
#include <optional>
#include <system_error>

namespace cw {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// Reads a number at the start of `text` and removes it. No sign, no "inf", no "nan".
std::optional<double> take(std::string_view& text) {
  if (text.empty() || !(is_digit(text.front()) || text.front() == '.')) return std::nullopt;
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc()) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return value;
}

/// "/4" after a numerator: the denominator, if a digit follows the slash.
std::optional<double> take_denominator(std::string_view& text) {
  if (text.size() < 2 || text.front() != '/' || !is_digit(text[1])) return std::nullopt;
  text.remove_prefix(1);
  return take(text);
}

/// "1/8" after a whole number and a blank.
std::optional<double> take_fraction(std::string_view& text) {
  std::string_view ahead = trimmed(text);
  const auto above = take(ahead);
  const auto below = above ? take_denominator(ahead) : std::nullopt;
  if (!below) return std::nullopt;
  text = ahead;
  return *above / *below;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t\r\n";
  const auto first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

LeadingNumber read_leading_number(std::string_view text) {
  LeadingNumber out;
  const std::string_view whole = trimmed(text);
  std::string_view rest = whole;
  const bool minus = !rest.empty() && rest.front() == '-';
  if (!rest.empty() && (minus || rest.front() == '+')) rest.remove_prefix(1);
  const auto first = take(rest);
  if (!first) {
    out.complaint = "does not start with a number that can be held";
    return out;
  }
  double value = *first;
  if (const auto below = take_denominator(rest)) {
    value /= *below;
  } else if (const auto part = take_fraction(rest)) {
    value += *part;
  }
  out.value = minus ? -value : value;
  out.digits = trimmed(whole.substr(0, whole.size() - rest.size()));
  out.rest = trimmed(rest);
  if (!std::isfinite(out.value)) {
    out.complaint = "is not a finite number";
  } else if (!out.rest.empty() && out.rest.front() == ',') {
    out.complaint = "has a comma in its number; the decimal sign is a point";
  } else if (!out.rest.empty() && (is_digit(out.rest.front()) || out.rest.front() == '.')) {
    out.complaint = "has two numbers; write one, without blanks or thousands signs";
  }
  return out;
}

}  // namespace cw
