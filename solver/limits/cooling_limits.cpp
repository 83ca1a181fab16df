#include "solver/limits/cooling_limits.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "solver/limits/limits.hpp"

namespace cw {
namespace {

LimitResult cooling_row(const CoolingResult& cooling, const char* part, const char* quantity,
                        double value) {
  LimitResult r;
  r.part = part;
  r.quantity = quantity;
  r.value = value;
  r.at_state = cooling.at_state;
  return r;
}

void judge_cooling(LimitResult& r, double limit, double fraction) {
  r.limit = limit;
  r.fraction = std::max(0.0, fraction);
  r.verdict = verdict_of(fraction);
}

std::string litres(double flow) {
  return figure(flow * 60e3) + " L/min";
}

std::string degrees(Temperature t) {
  return figure(t.in_celsius()) + " degC";
}

LimitResult boiling(const CoolingResult& c, const WaterCooling& w) {
  LimitResult r = cooling_row(c, "cooling water", "wall_hottest_K", w.wall_hottest.kelvin);
  const double boils = w.wall_hottest.kelvin + w.boiling_margin;
  judge_cooling(r, boils, (w.wall_hottest.kelvin - w.inlet.kelvin) / (boils - w.inlet.kelvin));
  const bool warm = w.outlet > hose_limit;
  if (warm && r.verdict == Verdict::ok) r.verdict = Verdict::watch;
  if (r.verdict != Verdict::ok)
    r.advice =
        fmt::format("The water leaves at {}{}; {} keeps its rise to {} K.", degrees(w.outlet),
                    r.verdict == Verdict::stop ? " and boils at the wall" : "",
                    litres(w.flow_for_rise), figure(w.wanted_rise));
  return r;
}

LimitResult pump(const CoolingResult& c, const WaterCooling& w) {
  LimitResult r = cooling_row(c, "coolant pump", "pressure_drop_Pa", w.pressure_drop);
  if (!w.pressure) return r;
  judge_cooling(r, *w.pressure, w.pressure_drop / *w.pressure);
  if (r.verdict != Verdict::ok)
    r.advice = "A wider bore, or the coil's halves fed in parallel, needs less pressure.";
  return r;
}

LimitResult speed(const CoolingResult& c, const WaterCooling& w) {
  constexpr double erodes = 3.0;  // [m/s]
  LimitResult r = cooling_row(c, "cooling water", "velocity_m_per_s", w.velocity);
  if (w.velocity <= erodes) return r;
  r.verdict = Verdict::watch;
  r.advice = "Above 3 m/s water wears copper away: a wider bore, or less flow.";
  return r;
}

LimitResult stopped_flow(const CoolingResult& c, const WaterCooling& w) {
  constexpr double reaction = 20.0;  // [s]
  LimitResult r =
      cooling_row(c, "cooling water stopped", "time_to_boiling_s", *w.no_flow_to_boiling);
  const std::string then = w.no_flow_to_solder ? fmt::format(" Soft solder softens after {} s.",
                                                             figure(*w.no_flow_to_solder))
                                               : "";
  if (r.value < reaction) {
    r.verdict = Verdict::watch;
    r.advice = "Nobody is that quick: fit a flow switch that stops the drive." + then;
  } else {
    r.advice = "From loss of flow." + then;
  }
  return r;
}

LimitResult dry(const CoolingResult& c, const StillAirCooling& a) {
  const char* why = a.limit_given ? "its limit" : "where soft solder softens";
  if (a.settles) {
    LimitResult r = cooling_row(c, "coil without water", "temperature_K", a.settles->kelvin);
    judge_cooling(
        r, a.limit.kelvin,
        (a.settles->kelvin - a.surroundings.kelvin) / (a.limit.kelvin - a.surroundings.kelvin));
    if (r.verdict != Verdict::ok)
      r.advice =
          fmt::format("It settles at {}, near {}, {}.", degrees(*a.settles), why, degrees(a.limit));
    return r;
  }
  LimitResult r = cooling_row(c, "coil without water", "on_time_s", a.first_on.value_or(0.0));
  r.verdict = Verdict::watch;
  r.advice =
      fmt::format("From cold it reaches {}, {}, in {} s", degrees(a.limit), why, figure(r.value));
  if (a.on && a.off)
    r.advice += fmt::format("; after that {} s on and {} s off", figure(*a.on), figure(*a.off));
  r.advice += ". Water removes this limit; a thicker conductor makes the time longer.";
  return r;
}

}  // namespace

std::vector<LimitResult> cooling_limits(const CoolingResult& c) {
  std::vector<LimitResult> rows;
  if (c.water) {
    rows.push_back(boiling(c, *c.water));
    rows.push_back(pump(c, *c.water));
    rows.push_back(speed(c, *c.water));
    if (c.water->no_flow_to_boiling) rows.push_back(stopped_flow(c, *c.water));
  }
  if (c.air) rows.push_back(dry(c, *c.air));
  return rows;
}

}  // namespace cw
