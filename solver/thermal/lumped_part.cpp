#include "solver/thermal/lumped_part.hpp"

#include <algorithm>
#include <cmath>

namespace cw {
namespace {

/// Net heat into the part [W].
double net(const LumpedPart& part, Temperature t, bool on) {
  return (on ? part.power(t) : 0.0) - part.loss(t);
}

/// Time of one short step [s], Simpson's rule for the integral of C dT/net; empty if the net heat
/// has the wrong sign.
std::optional<double> step_time(const LumpedPart& part, double from, double to, bool on) {
  const double way = to - from, middle = 0.5 * (from + to);
  double sum = 0;
  for (const auto& [kelvin, weight] :
       {std::pair{from, 1.0}, std::pair{middle, 4.0}, std::pair{to, 1.0}}) {
    const double drive = net(part, {kelvin}, on) / way;
    if (!(drive > 0)) return std::nullopt;
    sum += weight * part.capacity({kelvin}) / (6 * drive);
  }
  return sum;
}

std::optional<double> time_over(const LumpedPart& part, Temperature from, Temperature to, bool on,
                                int steps) {
  if (from == to) return 0.0;
  double time = 0;
  for (int k = 0; k < steps; ++k) {
    const double a = std::lerp(from.kelvin, to.kelvin, double(k) / steps),
                 b = std::lerp(from.kelvin, to.kelvin, double(k + 1) / steps);
    const auto step = step_time(part, a, b, on);
    if (!step) return std::nullopt;
    time += *step;
  }
  return time;
}

constexpr int whole_way = 400;

}  // namespace

std::optional<double> time_between(const LumpedPart& part, Temperature from, Temperature to,
                                   bool on) {
  return time_over(part, from, to, on, whole_way);
}

std::optional<Temperature> settles_at(const LumpedPart& part, Temperature surroundings,
                                      Temperature highest) {
  if (net(part, highest, true) > 0) return std::nullopt;
  double low = surroundings.kelvin, high = highest.kelvin;
  for (int k = 0; k < 60; ++k) {
    const double middle = 0.5 * (low + high);
    (net(part, {middle}, true) > 0 ? low : high) = middle;
  }
  return Temperature{0.5 * (low + high)};
}

DutyCycle duty_cycle(const LumpedPart& part, Temperature surroundings, Temperature limit) {
  DutyCycle cycle;
  cycle.restart = {std::lerp(surroundings.kelvin, limit.kelvin, 0.1)};
  if (net(part, limit, true) <= 0) return cycle;
  cycle.first_on = time_between(part, surroundings, limit, true);
  cycle.on = time_between(part, cycle.restart, limit, true);
  cycle.off = time_between(part, limit, cycle.restart, false);
  cycle.largest_share = part.loss(limit) / part.power(limit);
  return cycle;
}

std::vector<LumpedPoint> history(const LumpedPart& part, Temperature from, Temperature to, bool on,
                                 int points) {
  const int steps = std::max(whole_way / points, 8);
  std::vector<LumpedPoint> line{{0.0, from}};
  for (int k = 0; k < points; ++k) {
    const Temperature next{std::lerp(from.kelvin, to.kelvin, double(k + 1) / points)};
    const auto time = time_over(part, line.back().temperature, next, on, steps);
    if (!time) break;
    line.push_back({line.back().time + *time, next});
  }
  return line;
}

}  // namespace cw
