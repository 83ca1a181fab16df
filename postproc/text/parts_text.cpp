#include "postproc/text/summary_sections.hpp"

#include <fmt/format.h>

#include "materials/figures.hpp"
#include "postproc/result/designs.hpp"
#include "postproc/text/wrap.hpp"

namespace cw {

namespace {

/// A part and its text, broken at 80 columns.
std::string item(const std::string& part, const std::string& text) {
  return wrapped(fmt::format("{}: {}", part, text), {80, 2, 4});
}

std::string choke_text(const ChokeResult& c) {
  if (c.turns == 0)
    return item("feed choke", "no number of turns on this core gives the inductance");
  std::string text = fmt::format(
      "{} turns, {} m of wire, {}; {} at its mean current ({} without); {} at the peak", c.turns,
      figure(c.wire_length), figure(c.resistance, "ohm"), figure(c.inductance, "H"),
      figure(c.unbiased_inductance, "H"), figure(c.flux_density_peak, "T"));
  if (c.saturation_current)
    text += fmt::format(", saturates at {}", figure(*c.saturation_current, "A"));
  return item("feed choke", text + fmt::format(" ({})", c.state));
}

std::string junction_text(const JunctionResult& j) {
  std::string text = fmt::format("{} in each, conduction alone", figure(j.loss, "W"));
  if (j.junction) text += fmt::format("; junction at {}", degrees(*j.junction));
  if (j.sink_allowed && *j.sink_allowed > 0)
    text += fmt::format("; the heat sink may have up to {} K/W", figure(*j.sink_allowed));
  if (j.alone) text += fmt::format("; without one {}", degrees(*j.alone));
  if (j.alone_to_limit)
    text += fmt::format(", past its limit in {}", figure(*j.alone_to_limit, "s"));
  return item("switch", text + fmt::format(" ({})", j.state));
}

std::string path_text(const PathResult& p) {
  std::string text = fmt::format("{} at {} rms, {}", figure(p.resistance, "ohm"),
                                 figure(p.current, "A"), figure(p.loss, "W"));
  text += p.rise ? fmt::format(", {} K above the air", figure(*p.rise))
                 : std::string(", the temperature runs away");
  if (p.solder_share > 0) text += fmt::format("; its solder carries {}", percent(p.solder_share));
  if (p.softens_after)
    text += fmt::format("; solder softens after {}", figure(*p.softens_after, "s"));
  return item(p.name, text + fmt::format(" ({})", p.state));
}

std::string mains_text(const MainsResult& m) {
  std::string text = fmt::format("{} at most ({})", figure(m.power, "W"), m.state);
  if (m.energy) text += fmt::format("; one heat takes {} Wh", figure(*m.energy / 3600));
  if (m.cost) text += fmt::format(" and costs {}, in the currency of its price", figure(*m.cost));
  return item("wall socket", text);
}

std::string duty_text(const DutyResult& d) {
  if (!d.on)
    return item(d.part, fmt::format("may stay on, ends at {} ({})", degrees(*d.steady), d.state));
  return item(d.part,
              fmt::format("{} from cold to {}, then {} off; {} of the time in short bursts ({})",
                          figure(*d.on, "s"), degrees(d.limit), figure(*d.off, "s"),
                          percent(d.share), d.state));
}

}  // namespace

std::string parts_text(const PartsResult& parts) {
  std::string text;
  if (parts.choke) text += choke_text(*parts.choke);
  if (parts.junction) text += junction_text(*parts.junction);
  for (const PathResult& path : parts.path) text += path_text(path);
  for (const DutyResult& duty : parts.duty) text += duty_text(duty);
  for (const NearbyResult& n : parts.nearby)
    text += item(n.name, fmt::format("takes {} in {} rms of the coil's field ({})",
                                     figure(n.power, "W"), figure(n.field, "T"), n.state));
  if (parts.mains) text += mains_text(*parts.mains);
  return text.empty() ? text : "\nParts\n" + text;
}

std::string commissioning_text(const CommissioningResult& commissioning) {
  if (commissioning.readings.empty()) return "";
  std::string text = "\nWhat the meters should show (band from the tolerances of the parts)\n";
  for (const ReadingResult& r : commissioning.readings)
    text += fmt::format("  {:<26} {:>12}  {} to {}\n", short_label(r.name), figure(r.value, r.unit),
                        figure(r.low, r.unit), figure(r.high, r.unit));
  return text;
}

}  // namespace cw
