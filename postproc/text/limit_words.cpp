#include "postproc/text/limit_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "materials/figures.hpp"

namespace cw {

namespace {

struct Named {
  std::string_view key;
  LimitQuantity meaning;
};

/// Keys that do not explain themselves.
const std::array<Named, 9>& exceptions() {
  static const std::array<Named, 9> all{{
      {"demand_A", {"asked for", "A", "", 1.0, false}},
      {"loaded_q", {"loaded Q", "", "", 1.0, true}},
      {"gate_time_over_half_period", {"gate time", "%", "of half a period", 100.0, false}},
      {"current_per_perimeter_A_per_m",
       {"current", "A", "rms per mm of skin round the copper", 1e-3, false}},
      {"rise_in_kelvin", {"rise above the air", "kelvin", "", 1.0, false}},
      {"junction_rise_in_kelvin", {"junction above the air", "kelvin", "", 1.0, false}},
      {"steady_rise_in_kelvin", {"left on, above the air", "kelvin", "", 1.0, false}},
      {"velocity_m_per_s", {"speed", "m/s", "", 1.0, false}},
      {"one_layer_fill", {"filled", "%", "by one layer", 100.0, false}},
  }};
  return all;
}

/// Removes `word` from the end of a key, with the underscore before it.
bool take_off(std::string& key, std::string_view word) {
  if (!key.ends_with(word)) return false;
  const std::size_t rest = key.size() - word.size();
  if (rest > 0 && key[rest - 1] != '_') return false;
  key.resize(rest > 0 ? rest - 1 : 0);
  return true;
}

std::string amount(double value, const LimitQuantity& q, bool with_tail) {
  const double x = q.scale * value;
  std::string text;
  if (q.unit.empty())
    text = figure(x);
  else if (q.unit == "%")
    text = figure(x) + " %";
  else if (q.unit == "K")
    text = figure(Temperature{x}.in_celsius()) + " degC";
  else if (q.unit == "kelvin")
    text = figure(x) + " K";
  else if (q.unit == "m")
    text = figure(1e3 * x) + " mm";
  else
    text = figure(x, q.unit);
  return with_tail && !q.tail.empty() ? text + " " + q.tail : text;
}

}  // namespace

LimitQuantity limit_quantity(std::string_view key) {
  for (const Named& named : exceptions())
    if (named.key == key) return named.meaning;
  constexpr std::array<std::string_view, 14> units = {"A", "V", "W",  "K",   "Hz", "T",   "J",
                                                      "s", "m", "Pa", "ohm", "H",  "var", "F"};
  LimitQuantity q;
  q.words = key;
  for (const std::string_view unit : units)
    if (q.unit.empty() && take_off(q.words, unit)) q.unit = unit;
  for (const std::string_view tail : {"rms", "peak"})
    if (q.tail.empty() && take_off(q.words, tail)) q.tail = tail;
  std::replace(q.words.begin(), q.words.end(), '_', ' ');
  return q;
}

std::string limit_words(const LimitResult& limit) {
  const LimitQuantity q = limit_quantity(limit.quantity);
  const std::string value = fmt::format("{} {}", q.words, amount(limit.value, q, true));
  if (!limit.limit) return value + ", no limit given";
  return fmt::format("{}, {} {}", value, q.at_least ? "at least" : "limit",
                     amount(*limit.limit, q, false));
}

}  // namespace cw
