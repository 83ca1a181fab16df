#include "materials/wire_gauge.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <iterator>

#include <fmt/format.h>

#include "materials/number.hpp"

namespace cw {

namespace {

/// Diameters of SWG 7/0 to 50 [mil]. Source: BS 3737:1964.
constexpr std::array swg_mils = {
    500.0, 464.0, 432.0, 400.0, 372.0, 348.0, 324.0, 300.0, 276.0, 252.0, 232.0, 212.0,
    192.0, 176.0, 160.0, 144.0, 128.0, 116.0, 104.0, 92.0,  80.0,  72.0,  64.0,  56.0,
    48.0,  40.0,  36.0,  32.0,  28.0,  24.0,  22.0,  20.0,  18.0,  16.4,  14.8,  13.6,
    12.4,  11.6,  10.8,  10.0,  9.2,   8.4,   7.6,   6.8,   6.0,   5.2,   4.8,   4.4,
    4.0,   3.6,   3.2,   2.8,   2.4,   2.0,   1.6,   1.2,   1.0};
constexpr int swg_first = -6;  // 7/0

double awg_diameter(int n) {
  return 0.127e-3 * std::pow(92.0, (36 - n) / 39.0);
}

double swg_diameter(int n) {
  return 25.4e-6 * swg_mils.at(static_cast<std::size_t>(n - swg_first));
}

/// A series of gauges; 0 means 1/0, -3 means 4/0.
struct GaugeSeries {
  std::string_view name;
  int thickest, thinnest;
  double (*diameter)(int);
  std::string_view example;
};

constexpr std::array all_series = {
    GaugeSeries{"AWG", -3, 56, awg_diameter, "AWG 12"},
    GaugeSeries{"SWG", swg_first, swg_first + static_cast<int>(swg_mils.size()) - 1, swg_diameter,
                "SWG 14"}};

std::string in_capitals(std::string_view text) {
  std::string out;
  std::ranges::transform(text, std::back_inserter(out), [](char c) {
    return static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  });
  return out;
}

const GaugeSeries* series_of(std::string_view capitals) {
  for (const GaugeSeries& series : all_series)
    if (capitals.starts_with(series.name) || capitals.ends_with(series.name)) return &series;
  return nullptr;
}

std::optional<int> whole_digits(std::string_view digits) {
  int value = 0;
  const char* end = digits.data() + digits.size();
  const auto [stop, failure] = std::from_chars(digits.data(), end, value);
  if (digits.empty() || failure != std::errc{} || stop != end || value < 0) return std::nullopt;
  return value;
}

/// "12" is 12; "4/0" and "0000" are -3.
std::optional<int> gauge_number(std::string_view text) {
  if (text.ends_with("/0")) {
    const auto noughts = whole_digits(text.substr(0, text.size() - 2));
    return noughts && *noughts > 0 ? std::optional(1 - *noughts) : std::nullopt;
  }
  if (!text.empty() && text.size() < 8 && text.find_first_not_of('0') == std::string_view::npos)
    return 1 - static_cast<int>(text.size());
  return whole_digits(text);
}

std::string gauge_words(const GaugeSeries& series, int n) {
  const double mm = 1e3 * series.diameter(n);
  return fmt::format("{} {} ({:.4g} mm)", series.name,
                     n < 1 ? fmt::format("{}/0", 1 - n) : fmt::format("{}", n), mm);
}

}  // namespace

bool names_gauge(std::string_view text) {
  return series_of(in_capitals(trimmed(text))) != nullptr;
}

Parsed parse_gauge(std::string_view text) {
  const std::string capitals = in_capitals(trimmed(text));
  const GaugeSeries* series = series_of(capitals);
  if (series == nullptr)
    return {std::nullopt,
            fmt::format("found \"{}\", which is no wire gauge; write for example \"{}\"", text,
                        all_series[0].example)};
  std::string_view rest = capitals;
  if (rest.starts_with(series->name))
    rest.remove_prefix(series->name.size());
  else
    rest.remove_suffix(series->name.size());
  const auto n = gauge_number(trimmed(rest));
  if (n && *n >= series->thickest && *n <= series->thinnest) return {series->diameter(*n), {}};
  constexpr std::size_t longest = 40;  // longer texts are not worth repeating
  const std::string found = text.size() > longest
                                ? fmt::format("a text of {} characters", text.size())
                                : fmt::format("\"{}\"", text);
  return {std::nullopt,
          fmt::format("found {}; allowed: {} to {}; write for example \"{}\", or the diameter as "
                      "in \"2 mm\"",
                      found, gauge_words(*series, series->thickest),
                      gauge_words(*series, series->thinnest), series->example)};
}

}  // namespace cw
