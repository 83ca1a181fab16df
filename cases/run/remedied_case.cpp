#include "cases/run/remedied_case.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cases/read/fingerprint.hpp"
#include "cases/read/read_case.hpp"
#include "cases/run/case_lines.hpp"
#include "solver/run/candidates.hpp"

namespace cw::cases {

namespace {

std::string sleeve_text(const Body& sleeve) {
  std::string profile;
  for (const Point& p : sleeve.outline.profile)
    profile += fmt::format("{}[{}, {}]", profile.empty() ? "" : ", ", millimetre_text(p.r),
                           millimetre_text(p.z));
  return fmt::format("\n[[body]]\nname = \"{}\"\nmaterial = \"{}\"\nprofile = [{}]\n", sleeve.name,
                     sleeve.material.name, profile);
}

/// Writes the change of a step, with the value in `heater`.
bool apply(const Remedy::Step& step, const Heater& heater, CaseLines& lines) {
  switch (step.knob) {
    case Knob::turns:
      return lines.put("coil", "turns", fmt::format("{:g}", step.to));
    case Knob::bore:
      return lines.put("coil", "bore", millimetre_text(step.to));
    case Knob::pitch:
      return heater.coil.gap ? lines.put("coil", "gap", millimetre_text(*heater.coil.gap))
                             : lines.put("coil", "pitch", millimetre_text(heater.coil.pitch));
    case Knob::cans:
      return lines.put("tank", "cans", fmt::format("{:g}", step.to)) &&
             lines.put("tank", "capacitance",
                       fmt::format("\"{:.6g} uF\"", 1e6 * heater.tank->capacitance)) &&
             lines.renew("tank", "esr", fmt::format("\"{:.6g} ohm\"", heater.tank->esr)) &&
             lines.renew("tank", "esl", fmt::format("\"{:.6g} H\"", heater.tank->esl));
    case Knob::finer_cans:
      return lines.put("tank", "cans", fmt::format("{:g}", step.to));
    case Knob::capacitance:
      return lines.put("tank", "capacitance", fmt::format("\"{:.6g} uF\"", 1e6 * step.to));
    case Knob::supply:
      return lines.put("drive", std::string(level_words(heater.drive).key),
                       fmt::format("\"{:.6g} {}\"", step.to, level_words(heater.drive).unit));
    case Knob::insulation:
      lines.append(sleeve_text(heater.bodies.back()));
      return true;
    case Knob::time:
      break;
  }
  return lines.put("heat", "until", fmt::format("\"{:.6g} s\"", step.to));
}

/// Whether the written case describes the heater that was solved.
bool same_heater(const Heater& written, const Heater& solved) {
  const auto near = [](double a, double b) { return std::abs(a - b) <= 1e-5 * std::abs(b); };
  const auto bank = [&] {
    return !solved.tank || (written.tank && written.tank->cans == solved.tank->cans &&
                            written.tank->cans_in_series == solved.tank->cans_in_series &&
                            near(written.tank->capacitance, solved.tank->capacitance));
  };
  return near(written.coil.turns, solved.coil.turns) && near(written.coil.bore, solved.coil.bore) &&
         near(written.coil.pitch, solved.coil.pitch) && bank() &&
         near(level_of(written.drive), level_of(solved.drive)) &&
         written.bodies.size() == solved.bodies.size() &&
         near(written.heat->until.value_or(0.0), solved.heat->until.value_or(0.0));
}

/// Writes assumed parts into the case: with a changed coil or supply, other values might be
/// assumed.
bool keep_assumed(const Case& subject, CaseLines& lines) {
  const auto* pair = std::get_if<PushPullDrive>(&subject.drive);
  if (pair == nullptr) return true;
  const auto written = [&](const char* key) { return subject.where.at.contains(key); };
  const Choke& choke = pair->choke;
  return (written("drive.choke") ||
          lines.put("drive", "choke",
                    fmt::format("{{ count = {}, inductance = \"{:.6g} uH\", resistance = "
                                "\"{:.6g} mohm\" }}",
                                choke.count, 1e6 * choke.inductance, 1e3 * choke.resistance))) &&
         (written("drive.switch") || lines.put("drive", "switch",
                                               fmt::format("{{ resistance = \"{:.6g} mohm\" }}",
                                                           1e3 * pair->transistor.resistance)));
}

}  // namespace

std::string remedied_case(const Case& subject, const Remedy& remedy,
                          const std::filesystem::path& directory) {
  if (!std::filesystem::is_regular_file(subject.file)) return "";
  const std::string bytes = case_bytes(subject.file);
  if (sha256_hex(bytes) != subject.sha256) return "";  // values were set on the command line
  CaseLines lines(bytes);
  const Heater heater = changed(subject, remedy.steps);
  for (const Remedy::Step& step : remedy.steps)
    if (!apply(step, heater, lines)) return "";
  if (!keep_assumed(subject, lines)) return "";
  const auto folder = subject.file.parent_path();
  lines.rebase(folder, directory);
  std::string text =
      fmt::format("# Remedy for {}: {}.\n# Solved at low effort, the result is: {}.\n\n{}",
                  subject.file.filename().string(), remedy.change, remedy.outcome, lines.text());
  try {
    if (!same_heater(read_case_text(text, directory / "remedy.toml"), heater)) return "";
  } catch (const std::exception&) {
    return "";  // a notation that is not supported
  }
  return text;
}

}  // namespace cw::cases
