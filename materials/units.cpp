#include "materials/units.hpp"

#include <fmt/format.h>
#include <locale.h>
#include <udunits2.h>

#include <array>
#include <cctype>
#include <cmath>
#include <memory>
#include <mutex>
#include <stdexcept>
#include <utility>
#include <vector>

#include "materials/nearest.hpp"
#include "materials/number.hpp"
#include "materials/unit_words.hpp"

namespace cw {
namespace {

// ---- the unit database -----------------------------------------------------

/// Sets the C locale for this thread while it exists: UDUNITS reads its own files with the user's
/// decimal sign.
class CLocale {
 public:
  CLocale() : before_(uselocale(c_locale())) {}
  ~CLocale() { uselocale(before_); }
  CLocale(const CLocale&) = delete;
  CLocale& operator=(const CLocale&) = delete;

 private:
  static locale_t c_locale() {
    static auto* const locale = newlocale(LC_ALL_MASK, "C", nullptr);
    return locale;
  }
  locale_t before_;
};

using Unit = std::unique_ptr<ut_unit, decltype(&ut_free)>;
using Converter = std::unique_ptr<cv_converter, decltype(&cv_free)>;

/// Loaded at the first quantity, so not for `--help`.
ut_system* database() {
  static ut_system* const system = [] {
    const CLocale c;
    ut_set_error_message_handler(ut_ignore);
    return ut_read_xml(nullptr);
  }();
  if (system == nullptr)
    throw std::runtime_error("the unit database of UDUNITS-2 cannot be read; install its package");
  return system;
}

/// The parser of UDUNITS keeps its state in globals: two threads must not read at once.
std::mutex& one_reader() {
  static std::mutex mutex;
  return mutex;
}

/// `value` of the database unit `from`, in the SI unit `to`; nothing if they have different
/// dimensions.
std::optional<double> convert(double value, const std::string& from, std::string_view to) {
  const std::lock_guard alone(one_reader());
  const CLocale c;
  const Unit source(ut_parse(database(), from.c_str(), UT_UTF8), ut_free);
  const Unit target(ut_parse(database(), std::string(to).c_str(), UT_UTF8), ut_free);
  if (!source || !target || ut_are_convertible(source.get(), target.get()) == 0)
    return std::nullopt;
  const Converter converter(ut_get_converter(source.get(), target.get()), cv_free);
  if (!converter) return std::nullopt;
  // The database also converts to reciprocals (5 s to 0.2 Hz): accept only a plain factor.
  const double one = cv_convert_double(converter.get(), 1.0),
               two = cv_convert_double(converter.get(), 2.0);
  if (std::abs(two - 2.0 * one) > 1e-9 * std::abs(one)) return std::nullopt;
  return cv_convert_double(converter.get(), value);
}

// ---- from a written unit to the database's spelling ---------------------------

/// Letters beyond ASCII and typographic signs in their plain spelling.
std::string plain(std::string_view unit) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 12> signs = {{
      {"\xC2\xB5", "u"},        // micro sign
      {"\xCE\xBC", "u"},        // Greek mu
      {"\xCE\xA9", "ohm"},      // Greek Omega
      {"\xE2\x84\xA6", "ohm"},  // ohm sign
      {"\xC2\xB0", "deg"},      // degree sign
      {"\xC2\xB2", "2"},        // superscripts
      {"\xC2\xB3", "3"},
      {"\xC2\xB7", "*"},      // middle dot
      {"\xE2\x8B\x85", "*"},  // dot operator
      {"\"", "in"},
      {"\t", " "},
      {".", "*"},
  }};
  std::string out;
  while (!unit.empty()) {
    std::size_t taken = 1;
    std::string_view text = unit.substr(0, 1);
    for (const auto& [sign, spelling] : signs) {
      if (unit.starts_with(sign)) {
        taken = sign.size();
        text = spelling;
      }
    }
    out += text;
    unit.remove_prefix(taken);
  }
  return out;
}

struct Spelled {
  std::string text;     ///< for the database
  std::string unknown;  ///< the first word that is not a unit here
  bool good = true;     ///< grammar: words with one-digit powers, * / ( ) and blanks
};

bool is_letter(char c) {
  return std::isalpha(static_cast<unsigned char>(c)) != 0;
}

/// The power after a unit, "^-2", "-2" or "2", as text; empty if there is none; moves `at` past it.
std::string power(std::string_view unit, std::size_t& at) {
  std::size_t i = at;
  if (i < unit.size() && unit[i] == '^') ++i;
  const bool minus = i < unit.size() && unit[i] == '-';
  if (minus) ++i;
  if (i >= unit.size() || unit[i] < '1' || unit[i] > '4') return {};
  const char digit = unit[i];
  at = i + 1;
  return fmt::format("^{}{}", minus ? "-" : "", digit);
}

Spelled spell(std::string_view unit) {
  Spelled out;
  bool operand = false;  // the previous token can be multiplied
  for (std::size_t at = 0; at < unit.size();) {
    const char c = unit[at];
    if (c == ' ') {
      ++at;
    } else if (is_letter(c)) {
      std::size_t end = at;
      while (end < unit.size() && is_letter(unit[end])) ++end;
      const std::string_view word = unit.substr(at, end - at), name = database_name(word);
      if (name.empty() && out.unknown.empty()) out.unknown = word;
      at = end;
      out.text += fmt::format("{}({}){}", operand ? "*" : "", name, power(unit, at));
      operand = true;
    } else if (c == '(' || c == ')' || c == '/' || c == '*') {
      if (c == '(' && operand) out.text += '*';
      out.text += c;
      operand = c == ')';
      ++at;
    } else {
      out.good = false;
      return out;
    }
  }
  return out;
}

// ---- messages --------------------------------------------------------------

std::string allowed(Dimension d) {
  const auto& w = words_of(d);
  return fmt::format("allowed: {} in {}", w.noun, w.units);
}

std::string_view usual_unit(Dimension d) {
  return read_leading_number(example(d)).rest;
}

/// Symbols in the usual units of a dimension, in their order there.
std::vector<std::string> symbols_of(Dimension d) {
  std::vector<std::string> out;
  std::string word;
  for (const char c : std::string(words_of(d).units) + ",") {
    if (is_letter(c)) {
      word += c;
    } else if (!word.empty()) {
      out.push_back(std::exchange(word, {}));
    }
  }
  return out;
}

/// The text with its unknown word corrected, or the number with the usual unit.
std::string mended(const LeadingNumber& number, const std::string& unit, const std::string& unknown,
                   Dimension d) {
  std::optional<std::string> near = nearest(unknown, symbols_of(d));
  if (!near) near = nearest(unknown, all_symbols());
  if (near) {
    std::string better = unit;
    better.replace(better.find(unknown), unknown.size(), *near);
    // A corrected unit helps only if it has the right dimension.
    if (const auto s = spell(better); s.unknown.empty() && convert(1.0, s.text, si_unit(d))) {
      return fmt::format("{} {}", number.digits, better);
    }
  }
  return fmt::format("{} {}", number.digits, usual_unit(d));
}

Parsed finite(double value, std::string_view text, Dimension d) {
  if (std::isfinite(value)) return {value, {}};
  return {std::nullopt, fmt::format("found \"{}\", which is too large to hold; {}; write \"{}\"",
                                    text, allowed(d), example(d))};
}

// ---- the kinds of quantity ---------------------------------------------------

/// Kelvin per degree and kelvin at zero of a scale; exact by the definitions of the Celsius and
/// Fahrenheit scales.
std::optional<std::pair<double, double>> scale(std::string_view unit) {
  if (unit == "K") return std::pair(1.0, 0.0);
  if (unit == "degC") return std::pair(1.0, 273.15);
  if (unit == "degF") return std::pair(5.0 / 9.0, 459.67 * 5.0 / 9.0);
  return std::nullopt;
}

Parsed parsed_temperature(const LeadingNumber& number, const std::string& unit,
                          std::string_view text, Dimension d) {
  const auto s = scale(unit);
  if (!s) {
    const std::string better =
        unit == "C"   ? "degC"
        : unit == "F" ? "degF"
                      : nearest(unit, symbols_of(d)).value_or(std::string(usual_unit(d)));
    return {std::nullopt,
            fmt::format("found \"{}\": \"{}\" is no temperature unit here; {}; write \"{} {}\"",
                        text, unit, allowed(d), number.digits, better)};
  }
  const double kelvin = number.value * s->first + (d == Dimension::temperature ? s->second : 0.0);
  if (d == Dimension::temperature && kelvin < 0.0) {
    return {std::nullopt, fmt::format("found \"{}\", which is below absolute zero; allowed: 0 K "
                                      "(-273.15 degC) and above; write \"{}\"",
                                      text, example(d))};
  }
  return finite(kelvin, text, d);
}

Parsed plain_number(const LeadingNumber& number, const std::string& unit, std::string_view text) {
  if (unit.empty()) return {number.value, {}};
  if (unit == "%") return {number.value / 100.0, {}};
  return {
      std::nullopt,
      fmt::format("found \"{}\" with a unit; allowed: a plain number, or per cent; write \"{}\"",
                  text, number.digits)};
}

Parsed measured(const LeadingNumber& number, const std::string& unit, std::string_view text,
                Dimension d) {
  const Spelled spelled = spell(unit);
  if (!spelled.unknown.empty()) {
    return {std::nullopt,
            fmt::format("found \"{}\": \"{}\" is no unit used here; {}; write \"{}\"", text,
                        spelled.unknown, allowed(d), mended(number, unit, spelled.unknown, d))};
  }
  const auto value = spelled.good ? convert(number.value, spelled.text, si_unit(d)) : std::nullopt;
  if (!value) {
    return {std::nullopt, fmt::format("found \"{}\", which is not {}; {}; write for example \"{}\"",
                                      text, words_of(d).noun, allowed(d), example(d))};
  }
  return finite(*value, text, d);
}

}  // namespace

Parsed parse_quantity(std::string_view text, Dimension wanted) {
  constexpr std::size_t longest =
      120;  // longer texts are not quantities, and not worth repeating in full
  if (text.size() > longest) {
    return {std::nullopt, fmt::format("found a text of {} characters; {}; write \"{}\"",
                                      text.size(), allowed(wanted), example(wanted))};
  }
  const LeadingNumber number = read_leading_number(text);
  if (!number.complaint.empty()) {
    return {std::nullopt, fmt::format("found \"{}\", which {}; {}; write for example \"{}\"", text,
                                      number.complaint, allowed(wanted), example(wanted))};
  }
  const std::string unit = plain(number.rest);
  if (wanted == Dimension::number) return plain_number(number, unit, text);
  if (unit.empty()) {
    return {std::nullopt,
            fmt::format("found \"{}\" without a unit; {}; write \"{} {}\"", trimmed(text),
                        allowed(wanted), number.digits, usual_unit(wanted))};
  }
  if (wanted == Dimension::temperature || wanted == Dimension::temperature_difference) {
    return parsed_temperature(number, unit, text, wanted);
  }
  return measured(number, unit, text, wanted);
}

std::string_view si_unit(Dimension d) {
  return words_of(d).si;
}

std::string_view example(Dimension d) {
  return words_of(d).example;
}

}  // namespace cw
