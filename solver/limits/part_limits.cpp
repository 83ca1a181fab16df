#include "solver/limits/part_limits.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "materials/figures.hpp"
#include "materials/solder.hpp"
#include "solver/limits/limits.hpp"

namespace cw {

namespace {

LimitResult row(const std::string& part, const char* quantity, double value,
                const std::string& state) {
  LimitResult r;
  r.part = part;
  r.quantity = quantity;
  r.value = value;
  r.at_state = state;
  return r;
}

void judge(LimitResult& r, double limit, const std::string& advice) {
  r.limit = limit;
  r.fraction = r.value / limit;
  r.verdict = verdict_of(*r.fraction);
  if (r.verdict != Verdict::ok) r.advice = advice;
}

/// Judges temperature rises: a fraction of an absolute temperature would mean nothing.
void junction_rows(const JunctionResult& j, std::optional<Temperature> limit, Temperature room,
                   std::vector<LimitResult>& rows) {
  const auto temperature = j.junction ? j.junction : j.alone;
  if (!temperature) return;
  LimitResult r = row(j.junction ? "switch on its heat sink" : "switch without heat sink",
                      "junction_rise_in_kelvin", temperature->kelvin - room.kelvin, j.state);
  if (limit) {
    std::string advice;
    if (j.sink_allowed && *j.sink_allowed > 0)
      advice = fmt::format("A heat sink of {} K/W or less holds the junction at {:.0f} degC.",
                           figure(*j.sink_allowed), limit->in_celsius());
    else
      advice = "No heat sink is enough: share the current between more transistors.";
    if (!j.junction && j.alone_to_limit)
      advice += fmt::format(" Without one it is there in {}.", figure(*j.alone_to_limit, "s"));
    judge(r, limit->kelvin - room.kelvin, advice);
  }
  rows.push_back(r);
}

void path_rows(const PathResult& p, const std::optional<double>& allowed, Temperature room,
               std::vector<LimitResult>& rows) {
  const double to_solder = solder_softens.kelvin - room.kelvin;
  const std::string wide =
      p.width_needed
          ? fmt::format(" A width of {} mm at the same thickness keeps it below {:.0f} %.",
                        figure(1e3 * *p.width_needed), 100 * watch_from)
          : std::string(" No width is enough: a thicker bar is needed.");
  LimitResult r = row(p.name, "rise_in_kelvin", p.rise.value_or(to_solder), p.state);
  std::string advice = wide.substr(1);
  if (p.softens_after)
    advice = fmt::format("Soldered joints soften after {}.{}", figure(*p.softens_after, "s"), wide);
  judge(r, p.rise ? std::min(allowed.value_or(to_solder), to_solder) : to_solder, advice);
  rows.push_back(r);
}

void choke_rows(const ChokeResult& c, std::optional<double> saturation,
                std::vector<LimitResult>& rows) {
  if (c.turns == 0) {
    LimitResult r = row("feed choke, ring core", "turns", 0, c.state);
    r.verdict = Verdict::stop;
    r.advice =
        "No number of turns gives the inductance at this current: use a larger core, or one of "
        "lower permeability.";
    rows.push_back(r);
    return;
  }
  LimitResult r = row("feed choke, ring core", "flux_density_peak_T", c.flux_density_peak, c.state);
  if (saturation)
    judge(r, *saturation,
          "Use a core of larger section, or of lower permeability with more turns.");
  rows.push_back(r);
  LimitResult fill = row("feed choke, hole of the core", "one_layer_fill", c.hole_fill, c.state);
  if (c.hole_fill > 1) {
    fill.verdict = Verdict::watch;
    fill.advice = "The turns need a second layer, or thinner wires side by side.";
  }
  rows.push_back(fill);
}

void duty_rows(const DutyResult& d, Temperature room, std::vector<LimitResult>& rows) {
  LimitResult r = row(d.part, "steady_rise_in_kelvin", d.steady->kelvin - room.kelvin, d.state);
  std::string advice;
  if (d.on)
    advice = fmt::format("From cold it may be on for {}, then off for {}; in short bursts {}.",
                         figure(*d.on, "s"), figure(*d.off, "s"), percent(d.share));
  judge(r, d.limit.kelvin - room.kelvin, advice);
  rows.push_back(r);
}

}  // namespace

std::vector<LimitResult> part_limits(const PartsResult& parts, const Heater& heater) {
  std::vector<LimitResult> rows;
  const Temperature room = surroundings_of(heater);
  const DriveParts drive = drive_parts(heater.drive);
  if (parts.choke)
    choke_rows(
        *parts.choke,
        drive.choke != nullptr && drive.choke->core ? drive.choke->core->saturation : std::nullopt,
        rows);
  if (parts.junction)
    junction_rows(*parts.junction,
                  drive.transistor != nullptr && drive.transistor->heat_sink
                      ? drive.transistor->heat_sink->junction_limit
                      : std::nullopt,
                  room, rows);
  for (std::size_t i = 0; i < parts.path.size(); ++i)
    path_rows(parts.path[i],
              heater.tank && i < heater.tank->conductors.size() ? heater.tank->conductors[i].rise
                                                                : std::nullopt,
              room, rows);
  for (const DutyResult& duty : parts.duty) duty_rows(duty, room, rows);
  for (const NearbyResult& nearby : parts.nearby)
    rows.push_back(row(nearby.name, "loss_W", nearby.power, nearby.state));
  return rows;
}

}  // namespace cw
