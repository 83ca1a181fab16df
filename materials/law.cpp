#include "materials/law.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace cw {
namespace {

// ---- one piece -------------------------------------------------------------

double value(const Piece& p, double kelvin) {
  const double t = kelvin - zero_celsius;
  switch (p.form) {
    case Piece::Form::polynomial: {
      double sum = 0.0;
      for (std::size_t k = p.c.size(); k-- > 0;) sum = sum * t + p.c[k];
      return sum;
    }
    case Piece::Form::pole:
      return p.c[0] + p.c[1] / (p.c[2] - t);
    case Piece::Form::shomate: {
      const double x = kelvin / 1000.0;
      return p.c[0] + x * (p.c[1] + x * (p.c[2] + x * p.c[3])) + p.c[4] / (x * x);
    }
  }
  assert(false && "unknown form of a piece");
  return 0.0;
}

/// Antiderivative of the polynomial with respect to t, zero at t = 0 degC.
double polynomial_primitive(const std::vector<double>& c, double t) {
  double sum = 0.0;
  for (std::size_t k = c.size(); k-- > 0;) sum = sum * t + c[k] / static_cast<double>(k + 1);
  return sum * t;
}

/// Antiderivative of the Shomate form with respect to T in kelvin.
double shomate_primitive(const std::vector<double>& c, double kelvin) {
  const double x = kelvin / 1000.0;
  return 1000.0 * (x * (c[0] + x * (c[1] / 2 + x * (c[2] / 3 + x * c[3] / 4))) - c[4] / x);
}

double integral(const Piece& p, double from, double to) {
  const double t0 = from - zero_celsius, t1 = to - zero_celsius;
  switch (p.form) {
    case Piece::Form::polynomial:
      return polynomial_primitive(p.c, t1) - polynomial_primitive(p.c, t0);
    case Piece::Form::pole:
      return p.c[0] * (t1 - t0) - p.c[1] * std::log((p.c[2] - t1) / (p.c[2] - t0));
    case Piece::Form::shomate:
      return shomate_primitive(p.c, to) - shomate_primitive(p.c, from);
  }
  assert(false && "unknown form of a piece");
  return 0.0;
}

// ---- each shape: value inside its range, integral from its lower end ---------

double inside(const Table& table, double kelvin) {
  const auto& x = table.kelvin;
  if (x.size() == 1) return table.value.front();
  const auto next = std::upper_bound(x.begin() + 1, x.end() - 1, kelvin) - x.begin();
  const auto i = static_cast<std::size_t>(next);
  const double s = (kelvin - x[i - 1]) / (x[i] - x[i - 1]);
  return table.value[i - 1] + s * (table.value[i] - table.value[i - 1]);
}

/// At a joint the upper piece is used, in keeping with the ranges of EN 1993-1-2 ("20 <= theta <
/// 800").
double inside(const std::vector<Piece>& pieces, double kelvin) {
  std::size_t i = pieces.size() - 1;
  while (i > 0 && kelvin < pieces[i].from) --i;
  return value(pieces[i], kelvin);
}

double from_lowest(const Table& table, double kelvin) {
  double sum = 0.0;
  for (std::size_t i = 1; i < table.kelvin.size() && table.kelvin[i - 1] < kelvin; ++i) {
    const double end = std::min(kelvin, table.kelvin[i]);
    const double at_end = end == table.kelvin[i] ? table.value[i] : inside(table, end);
    sum += 0.5 * (table.value[i - 1] + at_end) * (end - table.kelvin[i - 1]);
  }
  return sum;
}

double from_lowest(const std::vector<Piece>& pieces, double kelvin) {
  double sum = 0.0;
  for (const Piece& p : pieces) {
    if (p.from >= kelvin) break;
    sum += integral(p, p.from, std::min(kelvin, p.to));
  }
  return sum;
}

}  // namespace

double Law::operator()(Temperature t) const {
  if (const double* constant = std::get_if<double>(&shape)) return *constant;
  const double kelvin = std::clamp(t.kelvin, lowest, highest);
  if (const Table* table = std::get_if<Table>(&shape)) return inside(*table, kelvin);
  return inside(std::get<std::vector<Piece>>(shape), kelvin);
}

bool Law::covers(Temperature t) const {
  if (std::holds_alternative<double>(shape)) return true;
  return lowest <= t.kelvin && t.kelvin <= highest;
}

double Law::integral(Temperature a, Temperature b) const {
  if (const double* constant = std::get_if<double>(&shape))
    return *constant * (b.kelvin - a.kelvin);
  // The constant ends first, then the closed form between.
  const auto up_to = [this](double kelvin) {
    const double in = std::clamp(kelvin, lowest, highest);
    const double held = (kelvin - in) * (*this)(Temperature{in});
    if (const Table* table = std::get_if<Table>(&shape)) return held + from_lowest(*table, in);
    return held + from_lowest(std::get<std::vector<Piece>>(shape), in);
  };
  return up_to(b.kelvin) - up_to(a.kelvin);
}

}  // namespace cw
