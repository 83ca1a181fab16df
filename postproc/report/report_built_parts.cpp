#include <fmt/core.h>

#include "materials/figures.hpp"
#include "postproc/report/report_markup.hpp"
#include "postproc/report/report_sections.hpp"

namespace cw {

namespace {

using Rows = std::vector<TableRow>;

void add_choke(const ChokeResult& c, Rows& rows) {
  if (c.turns == 0) {
    rows.push_back({"Feed choke",
                    {"cannot be wound", "no number of turns on this core gives the inductance"}});
    return;
  }
  rows.push_back(
      {"Feed choke: turns",
       {fmt::format("{}", c.turns),
        fmt::format("{} of wire, {}", shown_distance(c.wire_length), shown(c.resistance, "ohm"))}});
  rows.push_back({"Feed choke: inductance",
                  {shown(c.inductance, "H"), fmt::format("at its mean current; {} without",
                                                         shown(c.unbiased_inductance, "H"))}});
  rows.push_back(
      {"Feed choke: flux density, peak",
       {shown(c.flux_density_peak, "T"),
        c.saturation_current ? fmt::format("saturates at {}", shown(*c.saturation_current, "A"))
                             : std::string()}});
  rows.push_back(
      {"Feed choke: hole of the core filled", {shown_percent(c.hole_fill), "by one layer"}});
}

void add_junction(const JunctionResult& j, Rows& rows) {
  rows.push_back({"Switch: loss", {shown(j.loss, "W"), "each, conduction alone"}});
  if (j.junction)
    rows.push_back(
        {"Switch: junction",
         {shown_celsius(*j.junction),
          j.sink_allowed && *j.sink_allowed > 0
              ? fmt::format("the heat sink may have {}\u00a0K/W", figure(*j.sink_allowed))
              : std::string()}});
  if (j.alone)
    rows.push_back(
        {"Switch: without heat sink",
         {shown_celsius(*j.alone),
          j.alone_to_limit ? fmt::format("past its limit in {}", shown(*j.alone_to_limit, "s"))
                           : std::string()}});
}

void add_path(const PathResult& p, Rows& rows) {
  std::string note =
      p.rise ? shown_difference(*p.rise) + " above the air" : std::string("it runs away");
  if (p.solder_share > 0)
    note += fmt::format("; its solder carries {}", shown_percent(p.solder_share));
  if (p.softens_after)
    note += fmt::format("; solder softens after {}", shown(*p.softens_after, "s"));
  if (p.width_needed)
    note += fmt::format("; {} wide would keep it well below its limit", shown_mm(*p.width_needed));
  rows.push_back({escaped(p.name),
                  {fmt::format("{} in {}", shown(p.loss, "W"), shown(p.resistance, "ohm")), note}});
}

void add_duty(const DutyResult& d, Rows& rows) {
  if (!d.on) {
    rows.push_back(
        {capitalised(escaped(d.part)),
         {shown(d.power, "W"), fmt::format("may stay on, ends at {}", shown_celsius(*d.steady))}});
    return;
  }
  rows.push_back({capitalised(escaped(d.part)),
                  {shown(d.power, "W"),
                   fmt::format("{} from cold to {}, then {} off; {} of the time in short bursts",
                               shown(*d.on, "s"), shown_celsius(d.limit),
                               shown(d.off.value_or(0.0), "s"), shown_percent(d.share))}});
}

void add_mains(const MainsResult& m, Rows& rows) {
  std::string note = "at most";
  if (m.energy) note += fmt::format("; one heat takes {}\u00a0Wh", figure(*m.energy / 3600));
  if (m.cost) note += fmt::format(" and costs {}, in the currency of its price", figure(*m.cost));
  rows.push_back({"Wall socket", {shown(m.power, "W"), note}});
}

}  // namespace

PageSection built_parts_section(const Result& result) {
  if (!result.parts) return {};
  const PartsResult& parts = *result.parts;
  Rows rows;
  if (parts.choke) add_choke(*parts.choke, rows);
  if (parts.junction) add_junction(*parts.junction, rows);
  for (const PathResult& path : parts.path) add_path(path, rows);
  for (const DutyResult& duty : parts.duty) add_duty(duty, rows);
  for (const NearbyResult& n : parts.nearby)
    rows.push_back({escaped(n.name),
                    {shown(n.power, "W"),
                     fmt::format("taken from {} rms of stray field", shown(n.field, "T"))}});
  if (parts.mains) add_mains(*parts.mains, rows);
  if (parts.breakdown_peak)
    rows.push_back({"Gap between turns",
                    {shown(*parts.breakdown_peak, "V"), "peak; clean air breaks down there"}});
  if (rows.empty()) return {};
  return {"built-parts", "Wound and mounted parts",
          markup({"Each in its worst state", {"Part", "Value", "Note"}, {{"", rows}}})};
}

}  // namespace cw
